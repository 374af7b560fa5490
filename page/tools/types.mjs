// types.mjs [--check]: writes the types of job and report from their schemas, or fails when they are not current.
import { readFileSync, writeFileSync } from "node:fs";
import { compile } from "json-schema-to-typescript";

const check = process.argv.includes("--check");
for (const [name, type] of [["job", "Job"], ["report", "Report"]]) {
  const schema = JSON.parse(readFileSync(new URL(`../../docs/schema/${name}.schema.json`, import.meta.url), "utf8"));
  const out = new URL(`../src/engine/${name}.ts`, import.meta.url);
  const text = await compile(schema, type, {
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
