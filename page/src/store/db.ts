// What is kept on this device. Every write is strict, on the disk before it counts as saved, and has a second copy.
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import { say } from "../words";
import * as copies from "./copies";

/** A job. `step` is the newest step that counts; steps above it were taken back and may be taken again. */
export interface Kept {
  id: string;
  name: string;
  step: number;
  steps: number;
  changed: number;
}

export interface Step {
  job: string;
  number: number;
  text: string;
  /** What was changed, for a person. */
  what: string;
}

export interface Beside {
  /** Name under which jobs name it, such as `library/demo.toml`. */
  name: string;
  text: string;
}

export interface Photo {
  id: string;
  job: string;
  /** What it shows, as a path of the job; empty for the whole job. */
  at: string;
  note: string;
  taken: number;
  picture: Blob;
}

interface Shape extends DBSchema {
  jobs: { key: string; value: Kept };
  steps: { key: [string, number]; value: Step };
  beside: { key: string; value: Beside };
  photos: { key: string; value: Photo; indexes: { job: string } };
}

const VERSION = 1;
type Database = IDBPDatabase<Shape>;
let opened: Promise<Database> | undefined;
let back: string[] = [];

function db(): Promise<Database> {
  opened ??= open().catch((error: unknown) => {
    opened = undefined;
    throw error;
  });
  return opened;
}

async function open(): Promise<Database> {
  const database = await openDB<Shape>("dewpath", VERSION, {
    upgrade(database, from) {
      // Steps from one version to the next: what an older page kept is never thrown away.
      if (from < 1) {
        database.createObjectStore("jobs", { keyPath: "id" });
        database.createObjectStore("steps", { keyPath: ["job", "number"] });
        database.createObjectStore("beside", { keyPath: "name" });
        database.createObjectStore("photos", { keyPath: "id" }).createIndex("job", "job");
      }
    },
    blocking(_now, _next, event) {
      (event.target as IDBDatabase).close();
      opened = undefined;
    },
  });
  // Copies that cannot be read keep nobody from the jobs that are here.
  await bringBack(database).catch(() => undefined);
  return database;
}

const STRICT = { durability: "strict" } as const;

/** Brings back what the second copies know and the database does not: jobs as they stood last, files beside them, photos. */
async function bringBack(database: Database): Promise<void> {
  const known = async (store: "jobs" | "beside" | "photos") => new Set((await database.getAllKeys(store)).map(String));
  const [jobs, beside, photos] = await Promise.all([
    copies.missing<Pick<Kept, "name" | "changed">>("job", await known("jobs")),
    copies.missing<object>("beside", await known("beside")),
    copies.missing<Omit<Photo, "picture"> & { type: string }>("photo", await known("photos")),
  ]);
  if (!(jobs.length || beside.length || photos.length)) return;
  const texts = await Promise.all(jobs.map(({ body }) => body.text()));
  const files = await Promise.all(beside.map(async ({ name, body }) => ({ name, text: await body.text() })));
  const pictures = await Promise.all(
    photos.map(async ({ head: { type, ...photo }, body }) => ({ ...photo, picture: new Blob([await body.arrayBuffer()], { type }) })),
  );
  const transaction = database.transaction(["jobs", "steps", "beside", "photos"], "readwrite", STRICT);
  jobs.forEach(({ name: id, head }, i) => {
    void transaction.objectStore("jobs").put({ id, ...head, step: 1, steps: 1 });
    void transaction.objectStore("steps").put({ job: id, number: 1, text: texts[i] ?? "", what: say("page.step.brought-back") });
  });
  for (const file of files) void transaction.objectStore("beside").put(file);
  for (const photo of pictures) void transaction.objectStore("photos").put(photo);
  await transaction.done;
  back = jobs.map(({ head }) => head.name);
}

/** Names of the jobs that were brought back when the store was opened. */
export async function broughtBack(): Promise<string[]> {
  await db();
  return back;
}

const copyJob = ({ id, name, changed }: Kept, text: string) => copies.keep("job", id, { name, changed }, text);

export async function jobs(): Promise<Kept[]> {
  const all = await (await db()).getAll("jobs");
  return all.sort((a, b) => b.changed - a.changed);
}

export async function job(id: string): Promise<{ kept: Kept; text: string } | undefined> {
  const transaction = (await db()).transaction(["jobs", "steps"], "readonly");
  const kept = await transaction.objectStore("jobs").get(id);
  const step = kept && (await transaction.objectStore("steps").get([id, kept.step]));
  return kept && step ? { kept, text: step.text } : undefined;
}

export async function step(job: string, number: number): Promise<Step | undefined> {
  return (await db()).get("steps", [job, number]);
}

/**
 * Adds a step after the present one; steps that were taken back are let go. Both or neither are written. What another window has
 * added since stays, one step back.
 */
export async function addStep(kept: Kept, text: string, what: string): Promise<Kept> {
  const transaction = (await db()).transaction(["jobs", "steps"], "readwrite", STRICT);
  const steps = transaction.objectStore("steps");
  const present = (await transaction.objectStore("jobs").get(kept.id)) ?? kept;
  const number = present.step + 1;
  for (let old = number + 1; old <= present.steps; old++) void steps.delete([kept.id, old]);
  void steps.put({ job: kept.id, number, text, what });
  const next: Kept = { ...kept, step: number, steps: number, changed: Date.now() };
  void transaction.objectStore("jobs").put(next);
  await transaction.done;
  await copyJob(next, text);
  return next;
}

/** Goes to another step without adding one: taking back and taking again. */
export async function goTo(kept: Kept, number: number): Promise<Kept> {
  const transaction = (await db()).transaction(["jobs", "steps"], "readwrite", STRICT);
  const { steps } = (await transaction.objectStore("jobs").get(kept.id)) ?? kept;
  const next: Kept = { ...kept, step: number, steps, changed: Date.now() };
  void transaction.objectStore("jobs").put(next);
  const step = await transaction.objectStore("steps").get([kept.id, number]);
  await transaction.done;
  if (step) await copyJob(next, step.text);
  return next;
}

export async function removeJob(id: string): Promise<void> {
  const pinned = await (await db()).getAllKeysFromIndex("photos", "job", id);
  await Promise.all([copies.drop("job", id), ...pinned.map((photo) => copies.drop("photo", photo))]);
  const transaction = (await db()).transaction(["jobs", "steps", "photos"], "readwrite", STRICT);
  void transaction.objectStore("jobs").delete(id);
  void transaction.objectStore("steps").delete(IDBKeyRange.bound([id, 0], [id, Infinity]));
  for (const photo of pinned) void transaction.objectStore("photos").delete(photo);
  await transaction.done;
}

export async function beside(): Promise<Beside[]> {
  return (await db()).getAll("beside");
}

export async function keepBeside(file: Beside): Promise<void> {
  const transaction = (await db()).transaction("beside", "readwrite", STRICT);
  void transaction.objectStore("beside").put(file);
  await transaction.done;
  await copies.keep("beside", file.name, {}, file.text);
}

export async function photos(job: string): Promise<Photo[]> {
  const all = await (await db()).getAllFromIndex("photos", "job", job);
  return all.sort((a, b) => a.taken - b.taken);
}

export async function keepPhoto(photo: Photo): Promise<void> {
  const transaction = (await db()).transaction("photos", "readwrite", STRICT);
  void transaction.objectStore("photos").put(photo);
  await transaction.done;
  const { picture, ...head } = photo;
  await copies.keep("photo", photo.id, { ...head, type: picture.type }, picture);
}

export async function removePhoto(id: string): Promise<void> {
  await copies.drop("photo", id);
  const transaction = (await db()).transaction("photos", "readwrite", STRICT);
  void transaction.objectStore("photos").delete(id);
  await transaction.done;
}
