// The bindings that `cargo xtask page` makes for the engine.
declare module "*/dewpath_wasm_bg.js" {
  export function ask(question: string, told: (share: number) => void): string;
  /** Takes what a module exports, before anything else is called. */
  export function __wbg_set_wasm(exports: WebAssembly.Exports): void;
}
