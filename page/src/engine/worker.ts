// The engine in a worker of its own: one question in, one answer out. It comes in two parts (tools/split.mjs): the first is what
// answers about a job need, the rest what few questions do.
import * as bindings from "./pkg/dewpath_wasm_bg.js";
import { FIRST, REST, isOfRest } from "./parts";

/** What the first part hands out to the page and to the rest. */
interface First extends WebAssembly.Exports {
  __wbindgen_start: () => void;
  /** 1 once the rest is there. */
  there: WebAssembly.Global<"i32">;
}

let first: First | undefined;
const begun = begin();
let coming: Promise<void> | undefined;

async function begin(): Promise<void> {
  const imports = { "./dewpath_wasm_bg.js": bindings, rest: { fetch: fetchNow } };
  const { instance } = await WebAssembly.instantiateStreaming(fetch(FIRST), imports);
  first = instance.exports as First;
  bindings.__wbg_set_wasm(first);
  first.__wbindgen_start();
}

function join(rest: WebAssembly.Module): void {
  if (!first || first.there.value === 1) return;
  new WebAssembly.Instance(rest, { first });
  first.there.value = 1;
}

/** Brings the rest before a question that is sure to need it; what fails is tried again with the next one. */
function bring(): Promise<void> {
  coming ??= WebAssembly.compileStreaming(fetch(REST))
    .then(join)
    .finally(() => (coming = undefined));
  return coming;
}

/** Brings the rest in the middle of an answer that turns out to need it: the first part waits. */
function fetchNow(): void {
  const request = new XMLHttpRequest();
  request.open("GET", REST, false);
  request.responseType = "arraybuffer";
  request.send();
  join(new WebAssembly.Module(request.response as ArrayBuffer));
}

interface Asked {
  id: number;
  question: string;
}

self.onmessage = async (event: MessageEvent<Asked>) => {
  const { id, question } = event.data;
  try {
    await begun;
    if (first?.there.value === 0 && isOfRest(question)) await bring();
    const start = performance.now();
    const answer = bindings.ask(question, (share) => self.postMessage({ id, share }));
    self.postMessage({ id, answer, took: performance.now() - start });
  } catch (error) {
    self.postMessage({ id, failed: String(error) });
  }
};
