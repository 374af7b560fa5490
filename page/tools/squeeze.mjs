// squeeze.mjs WASM: makes the module smaller in place, unless this very module was made smaller before.
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** What the compiler uses, all of it in WebAssembly 2.0. Anything newer might be written in a form that a phone cannot load. */
const FEATURES = ["bulk-memory", "multivalue", "mutable-globals", "nontrapping-float-to-int", "reference-types", "sign-ext"];
const FLAGS = ["-O", "--mvp-features", ...FEATURES.map((feature) => `--enable-${feature}`)];

const [module] = process.argv.slice(2);
const hash = createHash("sha256").update(FLAGS.join(" ")).update(readFileSync(module)).digest("hex");
const kept = join("node_modules/.cache/dewpath", `${hash}.wasm`);
if (!existsSync(kept)) {
  mkdirSync("node_modules/.cache/dewpath", { recursive: true });
  execFileSync("node_modules/.bin/wasm-opt", [...FLAGS, module, "-o", kept], { stdio: "inherit" });
}
const before = statSync(module).size;
copyFileSync(kept, module);
console.log(`${module}: ${before} bytes, made ${statSync(module).size}`);
