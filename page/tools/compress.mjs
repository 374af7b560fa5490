// compress.mjs: writes a brotli file beside each file of dist, and holds the whole to its limit.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

/** Bytes that may cross the network before the page answers. */
const LIMIT = 1_000_000;

let total = 0;
for (const entry of readdirSync("dist", { recursive: true, withFileTypes: true })) {
  if (!entry.isFile() || !/\.(js|css|html|wasm|svg|webmanifest)$/.test(entry.name)) continue;
  const path = join(entry.parentPath, entry.name);
  const bytes = readFileSync(path);
  const small = brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length } });
  writeFileSync(`${path}.br`, small);
  total += small.length;
}
console.log(`the page is ${total} bytes compressed`);
if (total > LIMIT) {
  console.error(`more than ${LIMIT} bytes: find out what grew`);
  process.exit(1);
}
