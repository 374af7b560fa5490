// Shapes of the engine's questions and answers: crates/wasm, `Question` and `Answer`.
import type { ClearanceResult, Clearing, Figure, Finding, PatchText, Placement, Report } from "./report";

export type Files = Record<string, string>;

export interface SetValue {
  at: string;
  value: string;
}

export interface Patch {
  set: SetValue[];
  remove?: string[];
}

export type Question =
  | { judge: { files: Files; job: string; draws: number } }
  | { sheets: { files: Files; job: string; draws: number; page: "paper" | "phone" } }
  | { year: { files: Files; job: string; page: "paper" | "phone" } }
  | { outlet: { files: Files; job: string; way: string; at?: [number, number]; level?: number } }
  | "sheet_style"
  | { near: { files: Files; job: string; fan: string; at: [number, number]; way?: string; duct?: string } }
  | { words: { show: string; keys: string[] } }
  | { change: { text: string; patch: Patch } }
  | { outline: { text: string } }
  | { figures: { show: string; figures: Figure[] } }
  | { is_job: { text: string } }
  | "forms";

export interface Problem {
  file: string;
  path: string;
  line: number;
  column: number;
  stops: boolean;
  message: string;
  help: string[];
}

export interface Written {
  at: string;
  table: string;
  value: string | null;
}

export interface Field {
  key: string;
  doc: string;
  example: string;
  shape: "text" | "quantity" | "count" | "yes-no" | "choice" | "word" | "size" | "table" | "list" | "other";
  quantity: string | null;
  words: string[];
  below: string | null;
}

export interface Form {
  table: string;
  doc: string;
  fields: Field[];
}

export interface Drawing {
  name: string;
  title: string;
  describes: string;
  svg: string;
  size_mm: [number, number];
  origin_mm: [number, number] | null;
  mm_per_m: number | null;
}

/** The legal place of a housing nearest to a finger. */
export interface Seat {
  placement: Placement;
  /** How far it is off its wish along x, along y and altogether, in the reader's units. */
  off: [string, string, string];
  way: Followed | null;
}

/** The way outdoors that follows a housing under a finger, at the likely values. */
export interface Followed {
  way_out: string;
  line_m: [number, number, number][];
  elbows: number;
  verdict: Finding["verdict"];
  clearing: Clearing | null;
  water: Finding[];
  length: string;
  air: string | null;
}

/** The spot of a terminal nearest to a hand. */
export interface Spot {
  outlet: {
    way_out: string;
    is_clear: boolean;
    at_m: [number, number, number];
    hand_m: [number, number, number];
    window_m: [[number, number, number], [number, number, number]];
    clearances: ClearanceResult[];
    short: Finding[];
    patch: PatchText;
  };
  /** From the least corner of its window along x and along y, in the reader's units. */
  along: [string, string];
}

export interface Table {
  /** What each column shows, and its unit. */
  head: [string, string][];
  rows: string[][];
}

export interface Year {
  report: Report;
  rooms: { room: string; name: string; table: Table; cost: string | null }[];
  ducts: Table | null;
  sheets: Drawing[];
}

export type Answer =
  | { judged: { report: Report; warnings: Problem[] } }
  | { sheets: Drawing[] }
  | { year: Year }
  | { outlet: Spot | null }
  | { sheet_style: string }
  | { near: Seat | null }
  | { words: string[] }
  | { problems: Problem[] }
  | { changed: { text: string } }
  | { outline: Written[] }
  | { figures: string[] }
  | { is_job: boolean }
  | { forms: { tables: Form[]; starter: string; books: string[] } };
