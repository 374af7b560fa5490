// The parts of a job, in the order a person meets them. What comes later has its place at the end of each group.
export interface Section {
  id: string;
  name: string;
  /** Lists whose elements are filled in here. */
  lists: string[];
  /** Single tables that are filled in here. */
  tables: string[];
  /** Points shown here, by the beginning of their id. */
  points: string[];
  /** Drawings shown here, by the beginning of their name. */
  drawings: string[];
}

export const SECTIONS: Section[] = [
  { id: "survey", name: "Survey", lists: ["room"], tables: ["site"], points: ["requirement", "room.size", "look"], drawings: [] },
  { id: "fan", name: "Fan", lists: ["fan"], tables: [], points: ["airflow", "fan", "swap", "noise", "reading"], drawings: ["fan-"] },
  { id: "run", name: "Run", lists: ["run", "terminal"], tables: [], points: ["duct", "terminal", "run", "drip", "housing"], drawings: ["section-", "pressure-", "water-"] },
  { id: "moisture", name: "Moisture", lists: [], tables: [], points: ["room", "mirror", "engine"], drawings: ["room-", "year-"] },
  { id: "house", name: "House", lists: [], tables: ["dwelling"], points: ["house", "dwelling", "transfer", "replacement"], drawings: [] },
  {
    id: "way",
    name: "Place and way out",
    lists: ["framing", "space", "obstacle", "way_out"],
    tables: [],
    points: ["place", "route", "bore", "penetration", "frame"],
    drawings: ["outside-", "bore-"],
  },
  { id: "points", name: "All points", lists: [], tables: [], points: [""], drawings: [] },
  { id: "photos", name: "Photos and notes", lists: [], tables: [], points: [], drawings: [] },
  { id: "file", name: "File", lists: [], tables: [], points: [], drawings: [] },
];

/** What is asked first of an element; the rest stands behind a fold. */
export const FIRST: Record<string, string[]> = {
  site: ["altitude", "outdoor", "climate"],
  dwelling: ["kind", "floor_area", "bedrooms", "air_changes", "year_built"],
  room: ["name", "kind", "length", "width", "height", "fixtures", "door", "use"],
  fan: ["model", "rated", "control", "over_tub_or_shower", "damper"],
  run: ["size", "duct", "length", "elbows", "place", "insulation", "slope", "part"],
  terminal: ["kind", "size", "flap_opens", "clear"],
};
