// types.mjs [--check]: writes the types of job, report, questions and answers from their schemas, or fails when they are not current.
import { readFileSync, writeFileSync } from "node:fs";
import { compile } from "json-schema-to-typescript";

/**
 * The same shapes with fewer types: without what stands beside a reference, which would make a type of its own of every mention, and
 * with a name for each table that says where a value comes from (`{ value, origin, … }`), which stands at some hundred keys.
 */
function named(schema) {
  const known = new Map();
  const go = (node) => {
    if (Array.isArray(node)) return node.map(go);
    if (node === null || typeof node !== "object") return node;
    if ("$ref" in node) return { $ref: node.$ref };
    const made = Object.fromEntries(Object.entries(node).map(([key, value]) => [key, go(value)]));
    if (!(node.properties?.value && node.properties.origin)) return made;
    const shape = JSON.stringify(made);
    const [name] = known.get(shape) ?? [`stated-${known.size + 1}`];
    known.set(shape, [name, made]);
    return { $ref: `#/$defs/${name}` };
  };
  const whole = go(schema);
  return { ...whole, $defs: { ...whole.$defs, ...Object.fromEntries(known.values()) } };
}

/** The same shapes with types of the report for what its schema describes; `names` hears which. */
function borrowed(schema, names) {
  const go = (node) => {
    if (Array.isArray(node)) return node.map(go);
    if (node === null || typeof node !== "object") return node;
    const [, within] = /^report\.schema\.json#(.*)$/.exec(node.$ref ?? "") ?? [];
    if (within === undefined) return Object.fromEntries(Object.entries(node).map(([key, value]) => [key, go(value)]));
    const name = within.split("/").at(-1) || "Report";
    names.add(name);
    return { tsType: name };
  };
  return go(schema);
}

const SCHEMAS = new URL("../../docs/schema/", import.meta.url);
const read = (name) => JSON.parse(readFileSync(new URL(`${name}.schema.json`, SCHEMAS), "utf8"));
const typesOf = (schema, name) =>
  compile(named(schema), name, { bannerComment: "", additionalProperties: false, format: false });

const names = new Set();
const asked = [await typesOf(borrowed(read("question"), names), "Question"), await typesOf(borrowed(read("answer"), names), "Answer")];
const files = {
  job: { of: ["job"], text: await typesOf(read("job"), "Job") },
  report: { of: ["report"], text: await typesOf(read("report"), "Report") },
  ask: {
    of: ["question", "answer"],
    text: `import type { ${[...names].toSorted().join(", ")} } from "./report";\n\n${asked.join("\n")}`,
  },
};
const check = process.argv.includes("--check");
for (const [name, { of, text }] of Object.entries(files)) {
  const out = new URL(`../src/engine/${name}.ts`, import.meta.url);
  const whole = `// Made from ${of.map((one) => `docs/schema/${one}.schema.json`).join(" and ")} by \`npm run types\`. Do not edit.\n\n${text}`;
  if (!check) {
    writeFileSync(out, whole);
  } else if (readFileSync(out, "utf8") !== whole) {
    console.error(`src/engine/${name}.ts is not current; run \`npm run types\` in page/`);
    process.exit(1);
  }
}
