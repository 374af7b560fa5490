// What a new job begins with: the least that gives a useful answer, everything else left out or unknown.
import { say } from "./words";

export interface Begin {
  name: string;
  length: string;
  width: string;
  height: string;
  airflow: string;
  show: "us" | "metric";
  book: string;
}

const quoted = (text: string): string => JSON.stringify(text);

export function begin({ name, length, width, height, airflow, show, book }: Begin): string {
  const line = (key: string, value: string) => (value.trim() ? `${key} = ${quoted(value.trim())}\n` : "");
  return [
    `format = 1\n${line("name", name || say("page.jobs.new"))}show = "${show}"\n${line("rule_book", book)}`,
    `[[room]]\nid = "bath"\nkind = "bathroom"\n${line("length", length)}${line("width", width)}${line("height", height)}`,
    `[[fan]]\nid = "fan"\nroom = "bath"\n${line("rated", airflow)}`,
    `[[run]]\nid = "run"\nfrom = "fan"\nto = "cap"\n`,
    `[[terminal]]\nid = "cap"\nkind = "unknown"\n`,
  ].join("\n");
}

/** A number typed without a unit is meant in feet or in metres. */
export function withUnit(text: string, show: "us" | "metric", unit: { us: string; metric: string }): string {
  const bare = text.trim().replace(",", ".");
  return /^\d+(\.\d+)?$/.test(bare) ? `${bare} ${unit[show]}` : text.trim();
}
