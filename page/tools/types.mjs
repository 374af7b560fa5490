// types.mjs [--check]: writes the types of job and report from their schemas, or fails when they are not current.
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

const check = process.argv.includes("--check");
for (const [name, type] of [["job", "Job"], ["report", "Report"]]) {
  const schema = JSON.parse(readFileSync(new URL(`../../docs/schema/${name}.schema.json`, import.meta.url), "utf8"));
  const out = new URL(`../src/engine/${name}.ts`, import.meta.url);
  const text = await compile(named(schema), type, {
    bannerComment: `// Made from docs/schema/${name}.schema.json by \`npm run types\`. Do not edit.`,
    additionalProperties: false,
    format: false,
  });
  if (!check) {
    writeFileSync(out, text);
  } else if (readFileSync(out, "utf8") !== text) {
    console.error(`src/engine/${name}.ts is not current; run \`npm run types\` in page/`);
    process.exit(1);
  }
}
