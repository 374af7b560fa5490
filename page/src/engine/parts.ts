// What the engine is made of: its module in two parts, and the texts of each language.

/** What answers about a job need. */
export const FIRST = new URL("./pkg/first.wasm", import.meta.url).href;
/** What drawings and the year need as well, and what few jobs do. */
export const REST = new URL("./pkg/rest.wasm", import.meta.url).href;

/** Texts by language (tools/catalogues.mjs). */
export const CATALOGUES = {
  en: new URL("./pkg/en.txt", import.meta.url).href,
  es: new URL("./pkg/es.txt", import.meta.url).href,
};

/** Whether a question is sure to need the rest. */
export const isOfRest = (question: string): boolean => /^\{?"(sheets|sheet_style|year)"/.test(question);
