// Made from docs/schema/question.schema.json and docs/schema/answer.schema.json by `npm run types`. Do not edit.

import type { ClearanceResult, Clearing, Figure, Finding, PatchText, Placement, Report, Verdict } from "./report";

/**
 * A question.
 */
export type Question = ({
speak: {
/**
 * Its texts: catalogues, of which a later one is laid over those before it.
 */
catalogues: string[]
}
} | {
judge: {
/**
 * Texts of the job and of everything it names, by name.
 */
files: {
[k: string]: string
}
/**
 * Which of them is the job.
 */
job: string
/**
 * Draws over what is not known; 0 takes the likely values alone.
 */
draws: number
}
} | {
sheets: {
/**
 * Texts of the job and of everything it names, by name.
 */
files: {
[k: string]: string
}
/**
 * Which of them is the job.
 */
job: string
/**
 * Draws over what is not known; 0 takes the likely values alone.
 */
draws: number
page: Paper
}
} | {
year: {
/**
 * Texts of the job and of everything it names, by name.
 */
files: {
[k: string]: string
}
/**
 * Which of them is the job.
 */
job: string
page: Paper
}
} | "sheet_style" | {
near: {
/**
 * Texts of the job and of everything it names, by name.
 */
files: {
[k: string]: string
}
/**
 * Which of them is the job.
 */
job: string
/**
 * Fan, by its id.
 */
fan: string
/**
 * The spot in the frame of the dwelling, metres.
 * 
 * @minItems 2
 * @maxItems 2
 */
at: [number, number]
/**
 * Way out that the way is held to, by its id; the best when left out.
 */
way?: (string | null)
/**
 * Duct that it is held to, by its id; the best when left out.
 */
duct?: (string | null)
}
} | {
outlet: {
/**
 * Texts of the job and of everything it names, by name.
 */
files: {
[k: string]: string
}
/**
 * Which of them is the job.
 */
job: string
/**
 * Way out, by its id.
 */
way: string
/**
 * The hand in the frame of the dwelling, x and y in metres; where the job has it when left out.
 * 
 * @minItems 2
 * @maxItems 2
 */
at?: ([number, number] | null)
/**
 * Height of the middle of the terminal, metres, where it is known.
 */
level?: (number | null)
}
} | {
change: {
/**
 * Text of the job.
 */
text: string
patch: Patch
}
} | {
outline: {
/**
 * Text of the job.
 */
text: string
}
} | {
is_job: {
/**
 * The text.
 */
text: string
}
} | {
figures: {
/**
 * `us` or `metric`, as the report says.
 */
show: string
/**
 * The figures.
 */
figures: Figure[]
}
} | "forms")
/**
 * How wide drawings are.
 */
export type Paper = ("paper" | "phone")

/**
 * Several changes, made together or not at all.
 */
export interface Patch {
/**
 * Values to write, in this order.
 */
set: Set[]
/**
 * Places to take away, afterwards.
 */
remove?: string[]
}
/**
 * One value to write.
 */
export interface Set {
/**
 * Where, as a path by ids.
 */
at: string
/**
 * The value as TOML (`"14 ft"`, `2`, `true`); text that is no TOML value is taken as it stands
 * (`14 ft`). A table (`{ kind = "wall cap" }`) at the place of an element that does not exist yet
 * adds the element.
 */
value: string
}

/**
 * An answer.
 */
export type Answer = ({
speaks: string
} | {
judged: {
report: Report
/**
 * What is odd in the job.
 */
warnings: Problem[]
}
} | {
problems: Problem[]
} | {
sheets: Drawing[]
} | {
year: Year
} | {
sheet_style: string
} | {
near: (Seat | null)
} | {
outlet: (Spot | null)
} | {
changed: {
/**
 * Text of the job.
 */
text: string
}
} | {
outline: Written[]
} | {
is_job: boolean
} | {
figures: string[]
} | {
forms: {
/**
 * The tables.
 */
tables: Form[]
/**
 * A job to start from.
 */
starter: string
/**
 * Rule books by id.
 */
books: string[]
}
})

/**
 * Something that is wrong or odd, and where.
 */
export interface Problem {
/**
 * File it is in; empty when it is in none.
 */
file: string
/**
 * Which value, as a path; empty for a whole file.
 */
path: string
/**
 * Line, from 1; 0 when it is in no file.
 */
line: number
/**
 * Column in characters, from 1.
 */
column: number
/**
 * Whether nothing can be judged until it is put right.
 */
stops: boolean
/**
 * What is wrong.
 */
message: string
/**
 * Ways out.
 */
help: string[]
}
/**
 * A drawing.
 */
export interface Drawing {
/**
 * Name: small letters, figures and hyphens. It begins with what is drawn: `plan`, `section`, `pressure` and so on.
 */
name: string
/**
 * Title.
 */
title: string
/**
 * What it shows, for who can't see it.
 */
describes: string
/**
 * SVG that takes its style sheet from the page.
 */
svg: string
/**
 * Width and height of the paper, mm.
 * 
 * @minItems 2
 * @maxItems 2
 */
size_mm: [number, number]
/**
 * Of a plan: where the origin of the dwelling lies, mm from the left and from the top.
 * 
 * @minItems 2
 * @maxItems 2
 */
origin_mm: ([number, number] | null)
/**
 * Of a plan: paper for a metre, mm.
 */
mm_per_m: (number | null)
}
/**
 * A year, as a page shows it.
 */
export interface Year {
report: Report
/**
 * A table for each room that was followed, months down and a last row for the year.
 */
rooms: RoomTable[]
/**
 * Water left in each duct, a column each; none where none was followed.
 */
ducts: (Table | null)
/**
 * The drawings that show months.
 */
sheets: Drawing[]
}
/**
 * Months of a room.
 */
export interface RoomTable {
/**
 * Room, by its id.
 */
room: string
/**
 * Name for people.
 */
name: string
table: Table
/**
 * What the year costs; none where a price is not written.
 */
cost: (string | null)
}
/**
 * A table as text, in the reader's units.
 */
export interface Table {
/**
 * What each column shows, and its unit.
 */
head: [string, string][]
/**
 * Cells, row by row; empty where nothing is known.
 */
rows: string[][]
}
/**
 * The place nearest to a finger.
 */
export interface Seat {
placement: Placement
/**
 * How far it is off its wish along x and along y, and altogether, in the reader's units.
 * 
 * @minItems 3
 * @maxItems 3
 */
off: [string, string, string]
/**
 * The way outdoors from there, at the likely values; none where none leads to the way out that is held to, or too little is
 * known.
 */
way: (Followed | null)
}
/**
 * A way outdoors that follows the housing under a finger: what is shown of it while it moves.
 */
export interface Followed {
/**
 * Way out that it takes.
 */
way_out: string
/**
 * Corners of its centre line, x, y and z in metres.
 */
line_m: [number, number, number][]
/**
 * Number of its elbows.
 */
elbows: number
verdict: Verdict
/**
 * The room through its design shower with it.
 */
clearing: (Clearing | null)
/**
 * What that leaves in its duct and at the housings, without workings.
 */
water: Finding[]
/**
 * Its length, in the reader's units.
 */
length: string
/**
 * Air that it delivers, in the reader's units.
 */
air: (string | null)
}
/**
 * The spot of a terminal nearest to a hand.
 */
export interface Spot {
outlet: Outlet
/**
 * How far it is from the least corner of its window along x and along y, in the reader's units.
 * 
 * @minItems 2
 * @maxItems 2
 */
along: [string, string]
}
/**
 * Where the terminal of a way out would lie, nearest to a hand.
 */
export interface Outlet {
/**
 * Way out, by its id.
 */
way_out: string
/**
 * Whether there is a spot at which it keeps every distance that a book asks for.
 */
is_clear: boolean
/**
 * Middle of the terminal at that spot; under the hand where there is none.
 * 
 * @minItems 3
 * @maxItems 3
 */
at_m: [number, number, number]
/**
 * Middle of the terminal under the hand, brought into the window.
 * 
 * @minItems 3
 * @maxItems 3
 */
hand_m: [number, number, number]
/**
 * Least and greatest corner of the window in which it may lie.
 * 
 * @minItems 2
 * @maxItems 2
 */
window_m: [[number, number, number], [number, number, number]]
/**
 * Distances at the spot.
 */
clearances: ClearanceResult[]
/**
 * What would be too near under the hand.
 */
short: Finding[]
patch: PatchText
}
/**
 * Something that a job file says.
 */
export interface Written {
/**
 * Path by ids, as a patch takes it: `room.bath.length`. That of an element of a list has no value.
 */
at: string
/**
 * Name of the table it stands in, or of the element it is.
 */
table: string
/**
 * As it is written: a text without its quotes, anything else as TOML. None for an element.
 */
value: (string | null)
}
/**
 * A table with what may stand in it.
 */
export interface Form {
/**
 * Name, such as `room`.
 */
table: string
/**
 * What it is for.
 */
doc: string
/**
 * Its keys, in the order of the documentation.
 */
fields: Field[]
}
/**
 * A key that may be written.
 */
export interface Field {
/**
 * Name.
 */
key: string
/**
 * What it means.
 */
doc: string
/**
 * A value, as TOML.
 */
example: string
/**
 * What a value looks like: `text`, `quantity`, `count`, `yes-no`, `choice`, `word`, `size`, `table`, `list` or `other`.
 */
shape: string
/**
 * What is measured, where it is a quantity.
 */
quantity: (string | null)
/**
 * The words it may be, where it is one of several.
 */
words: string[]
/**
 * Name of the table below it, where it is one or a list of them.
 */
below: (string | null)
}
