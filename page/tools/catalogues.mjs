// catalogues.mjs: joins the texts of each language into the file that the page fetches, and writes the types of their keys.
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const FROM = "../crates/words/catalogue";
const OUT = "src/engine/pkg";

mkdirSync(OUT, { recursive: true });
for (const language of readdirSync(FROM)) {
  // The English help of keys stands in the engine, beside the keys.
  const topics = readdirSync(join(FROM, language)).toSorted().filter((topic) => !(language === "en" && topic === "help.txt"));
  // Comments tell those who write a catalogue; nobody fetches them. Each line follows on the end of another: a key is found by it.
  const lines = topics.flatMap((topic) => readFileSync(join(FROM, language, topic), "utf8").split("\n")).filter((line) => /^[^#]/.test(line));
  writeFileSync(join(OUT, `${language}.txt`), `\n${lines.join("\n")}\n`);
  if (language !== "en") continue;
  const slots = (text) => [...new Set([...text.matchAll(/\{([\w-]+)/g)].map(([, name]) => JSON.stringify(name)))];
  const words = lines.map((line) => {
    const at = line.indexOf("=");
    return `  ${JSON.stringify(line.slice(0, at).trim())}: ${slots(line.slice(at)).join(" | ") || "never"};`;
  });
  writeFileSync(join(OUT, "words.ts"), `/** Keys with the names of the values that their texts take. */\nexport interface Words {\n${words.join("\n")}\n}\n`);
}
