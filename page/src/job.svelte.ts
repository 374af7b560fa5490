// One open job: its text, what it says, what the engine answers, whether it is saved.
import { tick } from "svelte";
import type { Answer, Drawing, Patch, Problem, Seat, Spot, Written, Year } from "./engine/ask";
import { GivenUp, ask, askDrawings, askLong, askYear, giveUpDrawings, giveUpLong, giveUpYear } from "./engine/client";
import type { Finding, Report } from "./engine/report";
import * as store from "./store/db";
import { reason, say } from "./words";

/** Texts of a job and of what it names, by name. */
type Files = Record<string, string>;

export type Saved = "saved" | "saving" | "failed";

/** Rest after the last change until the draws are taken, ms. */
const REST_MS = 60;
/** Draws behind the ranges that the page shows. */
const DRAWS = 256;

const NAME = "job.toml";

/** A job as it stands, and as it would be judged with a change, both at the likely values. */
export interface Tried {
  before: Report;
  after: Report;
}

/** The first problem that an answer tells of. */
function told(answer: Answer): string {
  const [problem] = "problems" in answer ? answer.problems : [];
  return problem ? [problem.message, ...problem.help].join("; ") : say("page.job.cannot-write");
}

export class OpenJob {
  text = $state("");
  said = $state.raw<Written[]>([]);
  /** The text has been read once: until then no field could tell what is written from what is not. */
  read = $state(false);
  report = $state.raw<Report | undefined>();
  /** The report is of the text as it stands, draws and all. */
  current = $state(false);
  /** What keeps the job from being judged, and what is odd. */
  problems = $state.raw<Problem[]>([]);
  /** The last change that could not be made. */
  refused = $state<string | undefined>();
  /** Changes on their way to the disk, the one under the finger among them. */
  #underway = $state(0);
  #failed = $state(false);
  whyNot = $state("");
  /** Another window has written this job since it was opened here. */
  elsewhere = $state(false);
  working = $state(false);
  drawings = $state.raw<Drawing[]>([]);
  /** The drawings are of the text as it stands. */
  drawn = $state(false);
  /** What follows the hand that moves a housing, while it does. */
  hand = $state.raw<Seat | undefined>();
  kept = $state.raw<store.Kept>({ id: "", name: "", step: 0, steps: 0, changed: 0 });

  /** The year that was followed last, of the text as it stood then. */
  year = $state.raw<Year | undefined>();
  /** Since when a year is being followed, ms; undefined while none is. */
  yearSince = $state<number | undefined>();
  /** How much of it is over, 0 to 1. */
  yearShare = $state(0);
  #yearText = $state("");

  #files: Files = {};
  #rest: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;
  #wanted = "";
  /** Changes are made and written one after the other, in the order of the hand. */
  #queue: Promise<unknown> = Promise.resolve();

  constructor(kept: store.Kept, text: string, files: Files) {
    this.kept = kept;
    this.text = text;
    this.#files = files;
    void this.#look();
  }

  get values(): Map<string, string> {
    return new Map(this.said.flatMap(({ at, value }) => (value === null ? [] : [[at, value]])));
  }

  value(at: string): string | undefined {
    return this.said.find((written) => written.at === at)?.value ?? undefined;
  }

  /** Elements of a list below a path: `elements("room")`, `elements("run.attic.part")`. */
  elements(at: string): string[] {
    const above = `${at}.`;
    return this.said
      .filter(({ at, value }) => value === null && at.startsWith(above) && !at.slice(above.length).includes("."))
      .map(({ at }) => at);
  }

  /** What a person may rely on: "saved" stands only while nothing at all is on its way. */
  get saved(): Saved {
    if (this.#underway > 0) return "saving";
    return this.#failed ? "failed" : "saved";
  }

  /** Something is being typed that is not written yet; the function it returns says that this is over. */
  typing(): () => void {
    this.#underway++;
    let over = false;
    return () => {
      if (!over) this.#underway--;
      over = true;
    };
  }

  /** Keeps something that is no part of the text, such as a photo: until it is kept, not all is saved. */
  keeping(work: () => Promise<void>): Promise<void> {
    return this.#inTurn(work);
  }

  get canUndo(): boolean {
    return this.kept.step > 1;
  }

  get canRedo(): boolean {
    return this.kept.step < this.kept.steps;
  }

  /** Changes one value; an empty one is taken out. Where it comes from stays beside it. */
  set(at: string, value: string): Promise<void> {
    const hasOrigin = this.said.some((written) => written.at.startsWith(`${at}.`) && written.value !== null);
    const path = hasOrigin ? `${at}.value` : at;
    if (value.trim() !== "") return this.change({ set: [{ at: path, value }] }, `${at} = ${value}`);
    if (this.value(at) === undefined) return Promise.resolve();
    return this.change({ set: [], remove: [at] }, say("page.step.taken-out", { what: at }));
  }

  change(patch: Patch, what: string): Promise<void> {
    return this.#inTurn(async () => {
      const answer = await ask({ change: { text: this.text, patch } });
      if ("changed" in answer) {
        this.refused = undefined;
        await this.#take(answer.changed.text, what);
      } else if ("problems" in answer) {
        this.refused = told(answer);
      }
    });
  }

  /** Replaces the whole text, as typed in the file view or read from a file. */
  replace(text: string, what: string): Promise<void> {
    return this.#inTurn(() => this.#take(text, what));
  }

  undo(): Promise<void> {
    return this.#inTurn(() => (this.canUndo ? this.#go(this.kept.step - 1) : Promise.resolve()));
  }

  redo(): Promise<void> {
    return this.#inTurn(() => (this.canRedo ? this.#go(this.kept.step + 1) : Promise.resolve()));
  }

  /** Tries once more to save what could not be saved. */
  saveAgain(): Promise<void> {
    return this.#inTurn(() => this.#write(() => store.addStep(this.kept, this.text, say("page.step.saved-again"))));
  }

  stop(): void {
    giveUpLong();
    this.working = false;
  }

  /** Draws the job as it stands: the likely values first, bands of fans once the ranges are there. */
  async draw(page: "paper" | "phone"): Promise<void> {
    const turn = this.#turn;
    const draws = this.current ? DRAWS : 0;
    const wanted = `${turn}/${draws}/${page}`;
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    try {
      const answer = await askDrawings({ sheets: { files: this.#all(), job: NAME, draws, page } });
      if (turn !== this.#turn || !("sheets" in answer)) return;
      this.drawings = answer.sheets;
      this.drawn = true;
    } catch (error) {
      if (!(error instanceof GivenUp)) throw error;
    }
  }

  /** The year stands for the text as it is. */
  get yearCurrent(): boolean {
    return this.year !== undefined && this.#yearText === this.text;
  }

  /** Follows the job through its year; says whether it came to its end. */
  async followYear(page: "paper" | "phone"): Promise<boolean> {
    const text = this.text;
    const since = performance.now();
    this.yearSince = since;
    this.yearShare = 0;
    try {
      const answer = await askYear({ year: { files: this.#all(), job: NAME, page } }, (share) => (this.yearShare = share));
      if (!("year" in answer)) return false;
      this.year = answer.year;
      this.#yearText = text;
      return true;
    } catch (error) {
      if (error instanceof GivenUp) return false;
      throw error;
    } finally {
      if (this.yearSince === since) this.yearSince = undefined;
    }
  }

  stopYear(): void {
    giveUpYear();
    this.yearSince = undefined;
  }

  /** The spot of the terminal of a way out nearest to a hand, metres; undefined where its window is not known. */
  async spot(way: string, at?: [number, number], level?: number): Promise<Spot | undefined> {
    const asked = { files: this.#all(), job: NAME, way, ...(at && { at }), ...(level !== undefined && { level }) };
    const answer = await ask({ outlet: asked });
    return "outlet" in answer ? (answer.outlet ?? undefined) : undefined;
  }

  /** The legal place of a housing nearest to a spot, metres, with the way outdoors from there; undefined where it hangs nowhere. */
  async near(fan: string, at: [number, number], held?: { way: string; duct: string }): Promise<Seat | undefined> {
    const answer = await ask({ near: { files: this.#all(), job: NAME, fan, at, ...held } });
    return "near" in answer ? (answer.near ?? undefined) : undefined;
  }

  /** What a change would do; a text where the job could not be judged with it. */
  async tried({ set, remove }: Patch): Promise<Tried | string> {
    const { text } = this;
    const patch = { set, ...(remove && { remove }) };
    const changed = await ask({ change: { text, patch } });
    if (!("changed" in changed)) return told(changed);
    const [before, after] = await Promise.all([this.#likely(text), this.#likely(changed.changed.text)]);
    if (typeof before === "string") return before;
    return typeof after === "string" ? after : { before, after };
  }

  /** A point as it would be with a change, of the room of a fan where there are several. */
  async point(patch: Patch, id: string, fan: string): Promise<Finding | undefined> {
    const room = this.value(`fan.${fan}.room`);
    const tried = await this.tried(patch);
    if (typeof tried === "string") return undefined;
    const points = tried.after.findings.filter((finding) => finding.id === id);
    return points.find(({ subject }) => subject === room) ?? points[0];
  }

  /** A text of the job judged at the likely values. */
  async #likely(text: string): Promise<Report | string> {
    const answer = await ask({ judge: { files: { ...this.#files, [NAME]: text }, job: NAME, draws: 0 } });
    return "judged" in answer ? answer.judged.report : told(answer);
  }

  close(): void {
    clearTimeout(this.#rest);
    giveUpDrawings();
    this.stopYear();
    this.stop();
  }

  #all(): Files {
    return { ...this.#files, [NAME]: this.text };
  }

  #inTurn(work: () => Promise<void>): Promise<void> {
    const over = this.typing();
    const done = this.#queue.then(work).finally(over);
    this.#queue = done.catch(() => undefined);
    return done;
  }

  async #take(text: string, what: string): Promise<void> {
    if (text === this.text) return;
    this.text = text;
    const look = this.#look();
    const next = this.kept.step + 1;
    await this.#write(() => store.addStep(this.kept, text, what));
    if (this.kept.step > next) this.elsewhere = true;
    await look;
  }

  async #go(number: number): Promise<void> {
    const step = await store.step(this.kept.id, number);
    if (!step) return;
    this.text = step.text;
    const look = this.#look();
    await this.#write(() => store.goTo(this.kept, number));
    await look;
  }

  async #write(work: () => Promise<store.Kept>): Promise<void> {
    try {
      this.kept = await work();
      this.#failed = false;
      this.whyNot = "";
    } catch (error) {
      this.#failed = true;
      const full = error instanceof DOMException && error.name === "QuotaExceededError";
      this.whyNot = full ? say("page.job.full") : say("page.job.not-saved", { why: reason(error) });
    }
  }

  /** Reads the text and judges it: first the likely values, after a rest the ranges. */
  async #look(): Promise<void> {
    performance.clearMarks();
    performance.mark("changed");
    const turn = ++this.#turn;
    const text = this.text;
    this.current = false;
    this.drawn = false;
    clearTimeout(this.#rest);
    giveUpLong();
    const files = this.#all();
    const outline = ask({ outline: { text } });
    const first = ask({ judge: { files, job: NAME, draws: 0 } });
    this.#rest = setTimeout(() => void this.#draws(turn, files), REST_MS);
    const said = await outline;
    this.read = true;
    if (turn === this.#turn && "outline" in said) {
      this.said = said.outline;
      const name = this.value("name") ?? this.kept.name;
      if (name !== this.kept.name) this.kept = { ...this.kept, name };
    }
    const likely = await first;
    // The ranges may have been quicker.
    if (!this.current) await this.#took(turn, likely, "likely");
  }

  async #draws(turn: number, files: Files): Promise<void> {
    if (turn !== this.#turn) return;
    this.working = true;
    try {
      const answer = await askLong({ judge: { files, job: NAME, draws: DRAWS } });
      if (turn === this.#turn) this.current = true;
      await this.#took(turn, answer, "ranges");
    } catch (error) {
      if (!(error instanceof GivenUp)) throw error;
    } finally {
      if (turn === this.#turn) this.working = false;
    }
  }

  /** Takes an answer; the page shows it when this is over, and marks when that was for whoever measures. */
  async #took(turn: number, answer: Answer, mark: "likely" | "ranges"): Promise<void> {
    if (turn !== this.#turn) return;
    if ("judged" in answer) {
      this.report = answer.judged.report;
      this.problems = answer.judged.warnings;
    } else if ("problems" in answer) {
      this.problems = answer.problems;
    }
    await tick();
    performance.mark(mark);
  }
}
