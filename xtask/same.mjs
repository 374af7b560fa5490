// same.mjs BINDINGS NATIVE: asks the engine as WebAssembly and the native one about every example job (its report, its drawings,
// its year, the housing and the terminal under a hand), and compares the answers byte for byte.
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

/** Texts of a language: the module carries none. */
const language = (code) => {
  const folder = join("crates/words/catalogue", code);
  return readdirSync(folder).toSorted().map((topic) => readFileSync(join(folder, topic), "utf8"));
};
const speak = JSON.stringify({ speak: { catalogues: [...language("en"), ...language("es")] } });
ask(speak, () => undefined);

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
    .filter((name) => /^(fc|geo)-/.test(name))
    .map((job) => ({ files: cases, job, draws: 0 })),
].filter(({ files, job }) => isJob(job, files[job]));
asked.push({ files: { "wrong.toml": 'format = 1\nroom = "x' }, job: "wrong.toml", draws: 0 });

/** How much of a year is over is told after each month, and ends at the whole of it; nothing is told of anything else. */
const grows = (shares) => shares.length % 12 === 0 && shares.every((share, i) => share === (i + 1) / shares.length);

/** Asks both, ends with what differs, and gives the answer. */
function both(job, what) {
  const question = JSON.stringify(what);
  const shares = [];
  const here = ask(question, (share) => shares.push(share));
  const [, there] = execFileSync(native, { input: `${speak}\n${question}\n`, maxBuffer: 1 << 28 }).toString().split("\n");
  if (!grows(shares)) {
    console.error(`${job}: a year came this far, step by step: ${shares}`);
    process.exit(1);
  }
  if (here === there) return JSON.parse(here);
  const at = [...here].findIndex((letter, i) => letter !== there[i]);
  console.error(`${job}: the answers differ at ${at}:\n  ${here.slice(at - 80, at + 80)}\n  ${there.slice(at - 80, at + 80)}`);
  process.exit(1);
}

/** Everything else that a page asks about a job, from what its report holds. */
function* more({ files, job }, report) {
  yield { sheets: { files, job, draws: 16, page: "paper" } };
  yield { sheets: { files, job, draws: 0, page: "phone" } };
  for (const { fan, x_m, y_m } of report.placements) {
    yield { near: { files, job, fan, at: [x_m, y_m] } };
    const way = report.routes.find((route) => route.fan === fan);
    if (way) yield { near: { files, job, fan, at: [x_m + 0.2, y_m - 0.1], way: way.way_out, duct: way.duct } };
  }
  for (const way of new Set(report.routes.map((route) => route.way_out))) {
    yield { outlet: { files, job, way } };
  }
}

const counts = { judged: 0, sheets: 0, near: 0, outlet: 0, year: 0 };
for (const judge of asked) {
  const answer = both(judge.job, { judge });
  if (!("judged" in answer)) {
    if (judge.job === "wrong.toml") continue;
    console.error(`${judge.job}: ${JSON.stringify(answer).slice(0, 400)}`);
    process.exit(1);
  }
  counts.judged += 1;
  // Examples, and the cases in which there is a building to draw.
  const isWhole = judge.draws > 0 || judge.job.startsWith("geo-");
  const questions = isWhole ? [...more(judge, answer.judged.report)] : [];
  if (judge.draws > 0) questions.push({ year: { files: judge.files, job: judge.job, page: "phone" } });
  for (const question of questions) {
    const [kind] = Object.keys(question);
    const found = both(judge.job, question)[kind];
    if (found) counts[kind] += 1;
  }
}
const few = Object.entries(counts).filter(([, count]) => count < 3);
if (few.length) {
  console.error(`too few answers to compare: ${JSON.stringify(counts)}`);
  process.exit(1);
}
console.log(`the same bytes natively and as WebAssembly: ${JSON.stringify(counts)}`);
