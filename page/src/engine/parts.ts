// The two parts that the engine comes in.

/** What answers about a job need. */
export const FIRST = new URL("./pkg/first.wasm", import.meta.url).href;
/** What drawings and the year need as well, and what few jobs do. */
export const REST = new URL("./pkg/rest.wasm", import.meta.url).href;

/** Whether a question is sure to need the rest. */
export const isOfRest = (question: string): boolean => /^\{?"(sheets|sheet_style|year)"/.test(question);
