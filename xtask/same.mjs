// same.mjs BINDINGS NATIVE: asks the engine as WebAssembly and the native one about every example job, and compares the
// answers byte for byte.
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";

const [bindings, native] = process.argv.slice(2).map((path) => resolve(path));
const { ask } = createRequire(import.meta.url)(bindings);

// Everything that a job of the folder may name, under the name it is written with there.
function files(folder, below = "") {
  const found = {};
  for (const entry of readdirSync(join(folder, below), { withFileTypes: true })) {
    const name = below ? `${below}/${entry.name}` : entry.name;
    if (entry.isDirectory()) Object.assign(found, files(folder, name));
    else if (/\.(toml|csv)$/.test(entry.name)) found[name] = readFileSync(join(folder, name), "utf8");
  }
  return found;
}

const all = files("jobs");
const cases = Object.fromEntries(
  Object.entries(all).flatMap(([name, text]) => (name.startsWith("cases/") ? [[name.slice(6), text]] : [])),
);
// Jobs of the subfolder name libraries from where they lie.
for (const [name, text] of Object.entries(all)) cases[`../${name}`] = text;

const isJob = (name, text) => /\.toml$/.test(name) && /^format\s*=/m.test(text) && !/^\[\[?(duct|fan_model)/m.test(text);
const asked = [
  ...Object.keys(all).filter((name) => !name.includes("/")).map((job) => ({ files: all, job, draws: 64 })),
  ...Object.keys(cases)
    .filter((name) => /^fc-/.test(name))
    .map((job) => ({ files: cases, job, draws: 0 })),
].filter(({ files, job }) => isJob(job, files[job]));
asked.push({ files: { "wrong.toml": 'format = 1\nroom = "x' }, job: "wrong.toml", draws: 0 });

let judged = 0;
for (const judge of asked) {
  const question = JSON.stringify({ judge });
  const here = ask(question);
  const there = execFileSync(native, { input: question, maxBuffer: 1 << 28 }).toString();
  if (here !== there) {
    const at = [...here].findIndex((letter, i) => letter !== there[i]);
    console.error(`${judge.job}: the answers differ at ${at}:\n  ${here.slice(at - 80, at + 80)}\n  ${there.slice(at - 80, at + 80)}`);
    process.exit(1);
  }
  if (here.startsWith('{"judged"')) judged += 1;
  else if (judge.job !== "wrong.toml") {
    console.error(`${judge.job}: ${here.slice(0, 400)}`);
    process.exit(1);
  }
}
if (judged < 6) {
  console.error(`only ${judged} jobs were judged`);
  process.exit(1);
}
console.log(`${judged} jobs judged natively and as WebAssembly: the same bytes`);
