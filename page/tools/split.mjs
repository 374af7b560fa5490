// split.mjs WASM: parts the module in two. What is called to judge the jobs of the repository and to move what is drawn of them
// stays, and becomes what a page needs for its first answer; the rest (drawings, the year, what few jobs call) is fetched behind it.
// A function of the rest that is called before it is there is fetched for on the spot, so that every answer stays what it is.
import binaryen from "binaryen";
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

const { BulkMemory, Multivalue, MutableGlobals, NontrappingFPToInt, ReferenceTypes, SignExt } = binaryen.Features;
const FEATURES = BulkMemory | Multivalue | MutableGlobals | NontrappingFPToInt | ReferenceTypes | SignExt;
const JOBS = "../jobs";
/** Sections of a module that hold its data; those of the rest are in the first part. */
const DATA = [11, 12];

const [path] = process.argv.slice(2);
const folder = resolve(dirname(path));
const whole = readFileSync(path);

/** The texts of all jobs and of everything that they name. */
function texts(below = "") {
  const found = {};
  for (const entry of readdirSync(join(JOBS, below), { withFileTypes: true })) {
    const name = below ? `${below}/${entry.name}` : entry.name;
    if (entry.isDirectory()) Object.assign(found, texts(name));
    else if (/\.(toml|csv)$/.test(entry.name)) found[name] = readFileSync(join(JOBS, name), "utf8");
  }
  return found;
}

const read = () => binaryen.readBinary(whole, FEATURES);
const functions = (module) => Array.from({ length: module.getNumFunctions() }, (_, i) => module.getFunctionByIndex(i));

let starts = 0;

/** Starts a module with the bindings that were made for the whole. */
async function started(bytes, more) {
  // Bindings know one module: each that is started has its own.
  const bindings = await import(`${join(folder, "dewpath_wasm_bg.js")}?${starts++}`);
  const { instance } = await WebAssembly.instantiate(bytes, { "./dewpath_wasm_bg.js": bindings, ...more });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
  const ask = (question) => bindings.ask(JSON.stringify(question), () => undefined);
  ask(speak);
  return { exports: instance.exports, ask };
}

/** What the page asks about a job until it is shown, changed and moved. */
function* asked(files, job) {
  const text = files[job];
  yield "forms";
  yield { is_job: { text } };
  yield { outline: { text } };
  yield { change: { text, patch: { set: [{ at: "name", value: "Bath" }] } } };
  yield { figures: { show: "metric", figures: [{ airflow_l_s: { low: 1, likely: 2, high: 3 } }] } };
  yield { judge: { files, job, draws: 0 } };
  yield { judge: { files, job, draws: 256 } };
}

/** Steps of a hand that moves a housing or a terminal, metres. */
const STEPS = [-0.8, -0.3, 0, 0.2, 0.7];

function* moved(files, job, { placements, routes }) {
  for (const { fan, x_m, y_m } of placements.filter(({ rank }) => rank < 2)) {
    const way = routes.find((route) => route.fan === fan);
    const held = way && { way: way.way_out, duct: way.duct };
    for (const x of STEPS) for (const y of STEPS) yield { near: { files, job, fan, at: [x_m + x, y_m + y], ...held } };
  }
  for (const { way_out: way, line_m } of routes) {
    const [x, y, level] = line_m.at(-1);
    yield { outlet: { files, job, way } };
    for (const step of STEPS) yield { outlet: { files, job, way, at: [x + step, y - step], level } };
  }
}

/** Names of the functions that are called until then. */
async function called(files) {
  const module = read();
  const all = functions(module);
  const names = all.map((one) => binaryen.getFunctionInfo(one).name);
  module.addFunctionImport("called", "heard", "called", binaryen.i32, binaryen.none);
  all.forEach((one, i) => {
    const { body, results, module: from } = binaryen.getFunctionInfo(one);
    if (from) return;
    const tell = module.call("called", [module.i32.const(i)], binaryen.none);
    binaryen.Function(one).body = module.block(null, [tell, body], results);
  });
  const heard = new Set();
  const { ask } = await started(module.emitBinary(), { heard: { called: (i) => heard.add(names[i]) } });
  module.dispose();
  for (const [job, text] of Object.entries(files)) {
    if (!/^[^/]*\.toml$/.test(job) || !/^format\s*=/m.test(text)) continue;
    const answers = [...asked(files, job)].map(ask);
    const { judged } = JSON.parse(answers.at(-1));
    if (judged) [...moved(files, job, judged.report)].forEach(ask);
  }
  return heard;
}

/** The first part, and the names of the functions of the rest that it calls, in the order of their table. */
function firstOf(isFirst, shared) {
  const module = read();
  const rest = functions(module).map(binaryen.getFunctionInfo).filter(({ name, module: from }) => !from && !isFirst(name));
  module.addFunctionImport("fetch", "rest", "fetch", binaryen.none, binaryen.none);
  module.addGlobal("there", binaryen.i32, true, module.i32.const(0));
  module.addTable("rest", rest.length, rest.length);
  const through = (slot, params, results) => {
    const given = binaryen.expandType(params).map((type, i) => module.local.get(i, type));
    return module.block(null, [
      module.if(module.i32.eqz(module.global.get("there", binaryen.i32)), module.call("fetch", [], binaryen.none)),
      module.call_indirect("rest", module.i32.const(slot), given, params, results),
    ], results);
  };
  for (const { name, params, results } of rest) {
    module.removeFunction(name);
    module.addFunction(name, params, results, [], through(0, params, results));
  }
  for (const { name } of globals(module)) module.addGlobalExport(name, `global-${name}`);
  for (const { name } of tables(module)) module.addTableExport(name, `table-${name}`);
  module.addGlobalExport("there", "there");
  for (const name of shared) module.addFunctionExport(name, name);
  module.runPasses(["remove-unused-module-elements"]);
  const entries = rest.filter(({ name }) => module.getFunction(name));
  entries.forEach(({ name, params, results }, slot) => {
    binaryen.Function(module.getFunction(name)).body = through(slot, params, results);
  });
  const bytes = module.emitBinary();
  module.dispose();
  return { bytes, entries: entries.map(({ name }) => name) };
}

/** What changes while the module runs. */
const globals = (module) =>
  Array.from({ length: module.getNumGlobals() }, (_, i) => binaryen.getGlobalInfo(module.getGlobalByIndex(i))).filter(
    ({ name, mutable }) => mutable && name !== "there",
  );

const tables = (module) =>
  Array.from({ length: module.getNumTables() }, (_, i) => binaryen.getTableInfo(module.getTableByIndex(i)));

/** The rest, and the names of the functions of the first part that it calls. */
function restOf(isFirst, entries) {
  const module = read();
  for (let i = module.getNumExports() - 1; i >= 0; i--) module.removeExport(binaryen.getExportInfo(module.getExportByIndex(i)).name);
  for (let i = module.getNumElementSegments() - 1; i >= 0; i--) {
    module.removeElementSegment(binaryen.getElementSegmentInfo(module.getElementSegmentByIndex(i)).name);
  }
  for (const { name, module: from, params, results } of functions(module).map(binaryen.getFunctionInfo)) {
    if (!from && !isFirst(name)) continue;
    module.removeFunction(name);
    module.addFunctionImport(name, "first", name, params, results);
  }
  for (const { name, type } of globals(module)) {
    module.removeGlobal(name);
    module.addGlobalImport(name, "first", `global-${name}`, type, true);
  }
  module.addMemoryImport("0", "first", "memory");
  for (const name of [...tables(module).map(({ name }) => name), "rest"]) module.addTableImport(name, "first", `table-${name}`);
  module.addActiveElementSegment("rest", "entries", entries, module.i32.const(0));
  module.runPasses(["remove-unused-module-elements"]);
  const shared = functions(module).map(binaryen.getFunctionInfo).filter(({ module: from }) => from === "first");
  const bytes = withoutData(module.emitBinary());
  module.dispose();
  return { bytes, shared: shared.map(({ name }) => name) };
}

/** The same module without its data. */
function withoutData(bytes) {
  const kept = [bytes.subarray(0, 8)];
  for (let at = 8; at < bytes.length; ) {
    const begin = at;
    const section = bytes[at++];
    let size = 0;
    for (let shift = 0, byte = 128; byte & 128; shift += 7) {
      byte = bytes[at++];
      size |= (byte & 127) << shift;
    }
    at += size;
    if (!DATA.includes(section)) kept.push(bytes.subarray(begin, at));
  }
  return Buffer.concat(kept);
}

/** Both parts together must answer as the whole does, from the first part alone and from the rest. */
async function compare(first, rest, files) {
  const job = "hall-bath.toml";
  const page = "phone";
  const questions = [{ judge: { files, job, draws: 0 } }, { sheets: { files, job, draws: 0, page } }, { year: { files, job, page } }];
  const expected = questions.map((await started(whole, {})).ask);
  let fetched = 0;
  const parts = await started(first, {
    rest: {
      fetch: () => {
        fetched++;
        new WebAssembly.Instance(new WebAssembly.Module(rest), { first: parts.exports });
        parts.exports.there.value = 1;
      },
    },
  });
  questions.forEach((question, i) => {
    if (parts.ask(question) !== expected[i] || fetched !== Math.min(i, 1)) throw new Error(`the parts answer otherwise: ${Object.keys(question)}`);
  });
}

const files = texts();
const speak = { speak: { catalogues: ["en", "es"].map((language) => readFileSync(join(folder, `${language}.txt`), "utf8")) } };
const hash = createHash("sha256").update(readFileSync(new URL(import.meta.url))).update(JSON.stringify([files, speak])).update(whole).digest("hex");
const cache = "node_modules/.cache/dewpath";
const kept = ["first", "rest"].map((part) => [join(cache, `${hash}-${part}.wasm`), join(folder, `${part}.wasm`)]);
if (!kept.every(([file]) => existsSync(file))) {
  const heard = await called(files);
  const isFirst = (name) => heard.has(name);
  // What the first part calls of the rest is known before the rest is made, and the other way round after it.
  const { entries } = firstOf(isFirst, []);
  const { bytes: rest, shared } = restOf(isFirst, entries);
  const { bytes: first } = firstOf(isFirst, shared);
  await compare(first, rest, files);
  mkdirSync(cache, { recursive: true });
  [first, rest].forEach((bytes, i) => writeFileSync(kept[i][0], bytes));
}
for (const [file, out] of kept) copyFileSync(file, out);
console.log(`${path}: first ${statSync(kept[0][1]).size} bytes, then ${statSync(kept[1][1]).size}`);
