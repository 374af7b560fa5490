// The texts of the page. A language is a catalogue (crates/words/catalogue), fetched as text before anything is shown; a key that it
// lacks is said in English.
import { CATALOGUES } from "./engine/parts";
import type { Words } from "./engine/pkg/words";

/** A key that has a text. */
export type Word = keyof Words;
export type Language = keyof typeof CATALOGUES;
/** A key whose text takes no values. */
export type Label = { [Key in Word]: [Words[Key]] extends [never] ? Key : never }[Word];
/** The values that the text of a key takes. */
type Values<Key extends Word> = [Words[Key]] extends [never] ? [] : [values: Record<Words[Key], unknown>];

/** The languages, each by its own name. */
export const LANGUAGES: [Language, string][] = [
  ["en", "English"],
  ["es", "español"],
];

const kept = localStorage.getItem("language");
/** The language that was chosen on this device. */
export const language: Language = LANGUAGES.find(([code]) => code === kept)?.[0] ?? "en";

/** Speaks another language from now on. Everything is said anew, the engine's answers too. */
export function choose(code: Language): void {
  localStorage.setItem("language", code);
  location.reload();
}

/** The catalogues as they were fetched, that of the chosen language last: the engine speaks from them too. */
export let catalogues: string[] = [];
const texts = new Map<string, string>();

/** Brings the texts. */
export async function learn(): Promise<void> {
  const codes: Language[] = language === "en" ? ["en"] : ["en", language];
  catalogues = await Promise.all(codes.map((code) => fetch(CATALOGUES[code]).then((found) => found.text())));
  document.documentElement.lang = language;
}

/** The text of a key with its values: `{name}`, or one of the forms of `{count|# job|# jobs}`, in which `#` is the number. */
export function say<Key extends Word>(key: Key, ...[values]: Values<Key>): string {
  const given: Record<string, unknown> = values ?? {};
  return sayKey(key).replaceAll(/\{([\w-]+)(?:\|([^}]*))?\}/g, (_, name: string, forms?: string) => {
    const value = given[name];
    return forms === undefined ? String(value) : form(forms.split("|"), Number(value)).replaceAll("#", String(value));
  });
}

/** The text of a key that stands in a report; the key itself where there is none. */
export function sayKey(key: string): string {
  const text = texts.get(key) ?? catalogues.map((catalogue) => textIn(catalogue, key)).findLast((found) => found !== undefined) ?? key;
  texts.set(key, text);
  return text;
}

/** The text of a key in a catalogue, which is looked for: few are said before the first picture, and reading all takes longer. */
function textIn(catalogue: string, key: string): string | undefined {
  const begin = `\n${key} = `;
  const at = catalogue.indexOf(begin);
  return at < 0 ? undefined : catalogue.slice(at + begin.length, catalogue.indexOf("\n", at + 1));
}

/** What went wrong, in the words of whoever says it. */
export const reason = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** The form that a number takes: of the first rule that holds, else the last; so for a number with decimals. */
function form(forms: string[], n: number): string {
  const rules = sayKey("language.forms").split(";");
  const nth = Number.isInteger(n) ? rules.findIndex((rule) => holds(rule, n)) : -1;
  return forms[nth] ?? forms.at(-1) ?? "";
}

/** Whether a number meets every condition of a rule such as `n % 10 = 2..4 and n % 100 != 12..14`. */
function holds(rule: string, n: number): boolean {
  return rule.split(" and ").every((condition) => {
    const [left = "", right = ""] = condition.split("=");
    const isWanted = !left.trim().endsWith("!");
    const [, by] = /%\s*(\d+)/.exec(left) ?? [];
    const value = by ? n % Number(by) : n;
    const isWithin = right.split(",").some((range) => {
      const [from = "", to = from] = range.split("..");
      return Number(from) <= value && value <= Number(to);
    });
    return isWithin === isWanted;
  });
}
