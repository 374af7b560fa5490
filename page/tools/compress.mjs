// compress.mjs: writes a brotli file beside each file of dist, and holds to its limit what is loaded before a job can be begun, and
// what is loaded behind it: the rest of the engine, and parts of a job before they are opened.
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

/** Bytes that may cross the network, compressed. */
const LIMITS = { first: 910_000, later: 300_000 };
const MANIFEST = "dist/.vite/manifest.json";

const chunks = JSON.parse(readFileSync(MANIFEST, "utf8"));
/** Files of a chunk and of those that it imports. */
const files = (key, seen = new Set()) => {
  if (seen.has(key)) return [];
  seen.add(key);
  const { file, css = [], imports = [] } = chunks[key];
  return [file, ...css, ...imports.flatMap((known) => files(known, seen))];
};
const of = (which) => new Set(Object.keys(chunks).filter((key) => chunks[key][which]).flatMap((key) => files(key)));
const atOnce = of("isEntry");
const lazy = of("isDynamicEntry");
const isLater = (name) => (lazy.has(name) && !atOnce.has(name)) || /^assets\/(rest-.*\.wasm|(?!en-)\w+-.*\.txt)$/.test(name);

const sums = { first: 0, later: 0 };
for (const entry of readdirSync("dist", { recursive: true, withFileTypes: true })) {
  if (!entry.isFile() || !/\.(js|css|html|wasm|svg|webmanifest|txt)$/.test(entry.name)) continue;
  const path = join(entry.parentPath, entry.name);
  const bytes = readFileSync(path);
  const small = brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length } });
  writeFileSync(`${path}.br`, small);
  sums[isLater(relative("dist", path)) ? "later" : "first"] += small.length;
}
rmSync(MANIFEST);
console.log(`the page is ${sums.first} bytes compressed, and ${sums.later} that come later`);
for (const [when, limit] of Object.entries(LIMITS)) {
  if (sums[when] <= limit) continue;
  console.error(`${when}: more than ${limit} bytes: find out what grew`);
  process.exitCode = 1;
}
