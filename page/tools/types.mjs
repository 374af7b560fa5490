// types.mjs [--check]: writes src/engine/report.ts from the schema of the report, or fails when it is not current.
import { readFileSync, writeFileSync } from "node:fs";
import { compile } from "json-schema-to-typescript";

const schema = JSON.parse(readFileSync(new URL("../../docs/schema/report.schema.json", import.meta.url), "utf8"));
const out = new URL("../src/engine/report.ts", import.meta.url);
const text = await compile(schema, "Report", {
  bannerComment: "// Made from docs/schema/report.schema.json by `npm run types`. Do not edit.",
  additionalProperties: false,
  format: false,
});
if (process.argv.includes("--check")) {
  if (readFileSync(out, "utf8") !== text) {
    console.error("src/engine/report.ts is not current; run `npm run types` in page/");
    process.exit(1);
  }
} else {
  writeFileSync(out, text);
}
