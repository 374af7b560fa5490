// The engine in a worker of its own: one question in, one answer out.
import init, { ask } from "./pkg/dewpath_wasm.js";

const ready = init({ module_or_path: new URL("./pkg/dewpath_wasm_bg.wasm", import.meta.url) });

interface Asked {
  id: number;
  question: string;
}

self.onmessage = async (event: MessageEvent<Asked>) => {
  const { id, question } = event.data;
  try {
    await ready;
    const begun = performance.now();
    const answer = ask(question, (share) => self.postMessage({ id, share }));
    self.postMessage({ id, answer, took: performance.now() - begun });
  } catch (error) {
    self.postMessage({ id, failed: String(error) });
  }
};
