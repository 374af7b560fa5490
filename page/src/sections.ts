// The parts of a job, in the order a person meets them: groups follow the work on site. A group is shown once it has a part;
// wiring, buying, cutting and the order of work will stand under "build", readings, traces and diagnosis under "prove", papers
// under "keep".
import type { Component } from "svelte";
import type { Form } from "./engine/ask";
import type { DewpathJobFile } from "./engine/job";
import type { Report } from "./engine/report";
import type { OpenJob } from "./job.svelte";
import type { Word } from "./words";

/** A group is called by the key `page.group.` and this. */
export type Group = After<"page.group.">;

export const GROUPS: Group[] = ["look", "plan", "check", "build", "prove", "keep"];

/** What the view of a part is given. */
export interface Shown {
  job: OpenJob;
  /** None until the job is judged. */
  report: Report | undefined;
  section: Section;
  forms: Map<string, Form>;
  metric: boolean;
}

/** The end of a key of the catalogue that begins so. */
type After<Begin extends string, Key = Word> = Key extends `${Begin}${infer End}` ? End : never;

export interface Section {
  /** It is called by the key `page.part.` and this. */
  id: After<"page.part.">;
  group: Group;
  /** What is shown of it, and in which order. */
  view: () => Promise<{ default: Component<Shown> }>;
  /** Lists whose elements are filled in here. */
  lists: (keyof DewpathJobFile)[];
  /** Single tables that are filled in here. */
  tables: (keyof DewpathJobFile)[];
  /** Points shown here, by the beginning of their id; the longest beginning of all sections takes a point. */
  points: string[];
  /** Drawings shown here, by the beginning of their name. */
  drawings: string[];
}

const part = (group: Group, id: Section["id"], view: Section["view"], more: Partial<Section> = {}): Section => ({
  id,
  group,
  view,
  lists: [],
  tables: [],
  points: [],
  drawings: [],
  ...more,
});

export const SECTIONS: Section[] = [
  part("look", "survey", () => import("./views/Survey.svelte"), {
    lists: ["room", "symptom"],
    tables: ["site", "existing"],
    points: ["room.size", "look", "evidence"],
  }),
  part("look", "photos", () => import("./views/Photos.svelte")),
  part("plan", "required", () => import("./views/Required.svelte"), {
    points: ["requirement", "airflow.required", "dwelling.airflow", "window", "flow.verification"],
  }),
  part("plan", "fan", () => import("./views/Fan.svelte"), {
    lists: ["fan", "reading"],
    points: ["airflow", "fan", "swap", "noise", "sound", "reading", "existing"],
    drawings: ["fan-"],
  }),
  part("plan", "controls", () => import("./views/Controls.svelte"), { points: ["control", "room.control"] }),
  part("plan", "run", () => import("./views/Run.svelte"), {
    lists: ["run", "terminal", "grille", "junction"],
    points: ["duct", "terminal", "run", "drip", "housing", "dryer", "flow"],
    drawings: ["section-", "pressure-", "water-"],
  }),
  part("plan", "way", () => import("./views/Way.svelte"), {
    lists: ["framing", "space", "obstacle", "way_out"],
    points: ["place", "route"],
    drawings: ["way-"],
  }),
  part("plan", "holes", () => import("./views/Holes.svelte"), {
    points: ["frame", "bore", "penetration"],
    drawings: ["outside-", "bore-"],
  }),
  part("check", "moisture", () => import("./views/Moisture.svelte"), {
    points: ["room", "mirror", "engine"],
    drawings: ["room-"],
  }),
  part("check", "year", () => import("./views/Year.svelte"), {
    points: ["room.year", "room.mould", "room.humidity.running-mean", "dwelling.humid", "duct.year"],
  }),
  part("check", "house", () => import("./views/House.svelte"), {
    lists: ["scenario"],
    tables: ["dwelling"],
    points: ["house", "dwelling", "transfer", "replacement"],
  }),
  part("check", "points", () => import("./views/AllPoints.svelte")),
  part("keep", "file", () => import("./views/File.svelte")),
];

/** The part in which a point is shown, beside the list of all points. */
export function placeOf(finding: string): string {
  let [place, longest] = ["points", 0];
  for (const { id, points } of SECTIONS) {
    for (const begin of points) {
      const takes = finding === begin || finding.startsWith(`${begin}.`);
      if (takes && begin.length > longest) [place, longest] = [id, begin.length];
    }
  }
  return place;
}

/** The part in which a value of the job is written, by its path; undefined where only the file shows it. */
export function sectionOf(path: string): string | undefined {
  const [first] = path.split(".");
  if (first === undefined) return undefined;
  if (WHOLE.includes(first)) return "survey";
  return SECTIONS.find(({ lists, tables }) => [...lists, ...tables].some((known) => known === first))?.id;
}

/** What is said of the job as a whole. */
export const WHOLE = ["name", "date", "work", "rule_book", "also_show", "amendments", "show"];

/** What is asked first of an element; the rest stands behind a fold. */
export const FIRST: Record<string, string[]> = {
  site: ["altitude", "outdoor", "climate"],
  dwelling: ["kind", "floor_area", "bedrooms", "air_changes", "year_built"],
  room: ["name", "kind", "length", "width", "height", "fixtures", "door", "use"],
  fan: ["model", "rated", "over_tub_or_shower", "damper"],
  run: ["size", "duct", "length", "elbows", "place", "insulation", "slope", "part"],
  terminal: ["kind", "size", "flap_opens", "clear"],
  symptom: ["kind", "when", "season", "note"],
  existing: ["opening", "depth", "collar", "access_above", "duct_stays"],
  reading: ["at", "airflow", "pressure", "method", "state"],
  grille: ["room", "free_area", "collar"],
  junction: ["kind"],
  scenario: ["wind", "facing", "outdoor", "doors"],
};
