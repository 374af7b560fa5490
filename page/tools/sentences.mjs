// sentences.mjs: fails where the page says something itself that belongs into the catalogues (three words or more), and for keys of
// the page that nothing says.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { parse } from "svelte/compiler";
import ts from "typescript";

/** What may stand here, since nobody reads it. Only ever shorter. */
const EXCEPTIONS = ['section[aria-label="…"] :is(input, select, button)'];
const SENTENCE = /\p{L}+[,.:;]? +\p{L}+[,.:;]? +\p{L}+/u;
/** Attributes that a person meets. */
const READ = ["alt", "aria-label", "label", "placeholder", "title"];
const KEYS = "src/engine/pkg/words.ts";

const sources = readdirSync("src", { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(svelte|ts)$/.test(entry.name) && !entry.parentPath.startsWith("src/engine"))
  .map((entry) => join(entry.parentPath, entry.name));
sources.push("src/engine/client.ts", "src/engine/worker.ts", "src/engine/parts.ts");

/** Texts of a part of the syntax tree of a component. */
function* inComponent(node, attribute) {
  if (Array.isArray(node)) for (const one of node) yield* inComponent(one, attribute);
  if (node === null || typeof node !== "object" || Array.isArray(node)) return;
  const name = node.type === "Attribute" ? node.name : attribute;
  const isRead = attribute === undefined || READ.includes(attribute);
  if (node.type === "Text" && isRead) yield node.data;
  if (node.type === "Literal" && typeof node.value === "string" && isRead) yield node.value;
  if (node.type === "TemplateLiteral" && isRead) yield node.quasis.map((quasi) => quasi.value.cooked).join("…");
  if (node.type === "ImportDeclaration" || node.type === "StyleSheet" || node.type === "Comment") return;
  for (const [key, value] of Object.entries(node)) {
    if (!["loc", "metadata", "comments", "leadingComments", "trailingComments"].includes(key)) yield* inComponent(value, name);
  }
}

function inModule(text) {
  const found = [];
  const go = (node) => {
    if (ts.isStringLiteralLike(node)) found.push(node.text);
    if (ts.isTemplateExpression(node)) found.push([node.head, ...node.templateSpans.map(({ literal }) => literal)].map(({ text }) => text).join("…"));
    ts.forEachChild(node, go);
  };
  go(ts.createSourceFile("", text, ts.ScriptTarget.Latest));
  return found;
}

const complaints = [];
let all = "";
for (const path of sources) {
  const text = readFileSync(path, "utf8");
  all += text;
  const texts = path.endsWith(".svelte") ? inComponent(parse(text, { modern: true })) : inModule(text);
  for (const said of texts) {
    if (SENTENCE.test(said) && !EXCEPTIONS.includes(said)) complaints.push(`${path}: ${JSON.stringify(said.trim())}`);
  }
}
const keys = [...readFileSync(KEYS, "utf8").matchAll(/"(page\.[\w.-]+)":/g)].map(([, key]) => key);
/** Keys that are put together: `page.part.${id}`. */
const begins = [...all.matchAll(/`(page\.[\w.-]+\.)\$\{/g)].map(([, begin]) => begin);
for (const key of keys) {
  if (!all.includes(`"${key}"`) && !begins.some((begin) => key.startsWith(begin))) complaints.push(`nothing says ${key}`);
}
if (EXCEPTIONS.length) console.log(`said by the page itself: ${EXCEPTIONS.map((said) => JSON.stringify(said)).join(", ")}`);
if (complaints.length) {
  console.error(complaints.join("\n"));
  process.exit(1);
}
