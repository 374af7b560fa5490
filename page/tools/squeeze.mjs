// squeeze.mjs WASM: makes the module smaller in place, unless this very module was made smaller before.
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

const [module] = process.argv.slice(2);
const hash = createHash("sha256").update(readFileSync(module)).digest("hex");
const kept = join("node_modules/.cache/dewpath", `${hash}.wasm`);
if (!existsSync(kept)) {
  mkdirSync("node_modules/.cache/dewpath", { recursive: true });
  execFileSync("node_modules/.bin/wasm-opt", ["-O", "--all-features", module, "-o", kept], { stdio: "inherit" });
}
const before = statSync(module).size;
copyFileSync(kept, module);
console.log(`${module}: ${before} bytes, made ${statSync(module).size}`);
