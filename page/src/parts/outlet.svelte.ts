// Terminals under a hand: each moves along the wall or roof of its way out and settles where it keeps its distances.
import type { Spot } from "../engine/ask";
import type { Report } from "../engine/report";
import type { OpenJob } from "../job.svelte";
import { say } from "../words";

export type Place = [number, number];

/** Rest after the last key until a terminal settles, ms. */
const REST_MS = 700;
/** Shifts smaller than this are the same spot, m. */
const SAME_M = 0.0005;

export class Terminals {
  /** Where each terminal lies before a hand takes it, by its way out. */
  base = $state.raw<Map<string, Spot>>(new Map());
  /** The way out whose terminal a hand holds, and the spot that was found for it. */
  held = $state.raw<{ way: string; at: Place } | undefined>();
  spot = $state.raw<Spot | undefined>();

  #job: OpenJob;
  #levels = new Map<string, number>();
  #asking = false;
  /** Ends what keeps the job from being called saved while a hand holds a terminal. */
  #over: (() => void) | undefined;
  #rest: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;

  constructor(job: OpenJob) {
    this.#job = job;
  }

  /** Looks where the terminals of the ways that are written or recommended lie. */
  async look(report: Report): Promise<void> {
    const turn = ++this.#turn;
    const found = new Map<string, Spot>();
    this.#levels.clear();
    for (const path of this.#job.elements("way_out")) {
      const way = path.slice(path.lastIndexOf(".") + 1);
      const end = report.routes.filter((route) => route.rank === 1 && route.way_out === way).at(0)?.line_m.at(-1);
      const isWritten = this.#job.value(`${path}.terminal`) !== undefined;
      if (!end && !isWritten) continue;
      const level = end?.[2];
      if (level !== undefined) this.#levels.set(way, level);
      const settled = this.#job.said.some(({ at }) => at === `${path}.terminal_at`);
      const at: Place | undefined = end && !settled ? [end[0] ?? 0, end[1] ?? 0] : undefined;
      const spot = await this.#job.spot(way, at, level);
      if (turn !== this.#turn) return;
      if (spot) found.set(way, spot);
    }
    this.base = found;
  }

  shown(way: string): Spot | undefined {
    return this.held?.way === way && this.spot ? this.spot : this.base.get(way);
  }

  /** Middle of a terminal in plan: under the hand, else where it lies. */
  middle(way: string): Place {
    if (this.held?.way === way) return this.held.at;
    const [x, y] = this.base.get(way)?.outlet.hand_m ?? [0, 0];
    return [x, y];
  }

  /** Whether the hand is where the terminal would settle. */
  isThere(spot: Spot): boolean {
    const { at_m, hand_m } = spot.outlet;
    return Math.hypot(at_m[0] - hand_m[0], at_m[1] - hand_m[1]) < SAME_M;
  }

  hold(way: string, to: Place): void {
    // It stays in its window, as on a rail.
    const [least, most] = this.base.get(way)?.outlet.window_m ?? [to, to];
    const on = (i: 0 | 1) => Math.min(Math.max(to[i], least[i]), most[i]);
    this.#over ??= this.#job.typing();
    this.held = { way, at: [on(0), on(1)] };
    void this.#follow();
  }

  nudge(way: string, [x, y]: Place): void {
    const from = this.middle(way);
    this.hold(way, [from[0] + x, from[1] + y]);
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => void this.settle(), REST_MS);
  }

  waits(): void {
    clearTimeout(this.#rest);
  }

  /** Lets go: the terminal settles at the nearest spot that keeps its distances, and the job says so. */
  async settle(): Promise<void> {
    clearTimeout(this.#rest);
    const last = this.held;
    if (!last) return;
    try {
      const found = await this.#job.spot(last.way, last.at, this.#levels.get(last.way));
      if (found?.outlet.is_clear) {
        const { set, remove } = found.outlet.patch;
        await this.#job.change({ set, remove }, say("page.step.terminal-moved", { way: last.way }));
      }
    } finally {
      // A hand that has taken hold again keeps it.
      if (this.held === last) this.leave();
    }
  }

  leave(): void {
    clearTimeout(this.#rest);
    this.held = undefined;
    this.spot = undefined;
    this.#over?.();
    this.#over = undefined;
  }

  /** Asks for the spot under the hand; of several that come while one is asked, the last counts. */
  async #follow(): Promise<void> {
    if (this.#asking) return;
    this.#asking = true;
    try {
      let last: typeof this.held;
      while (this.held && this.held !== last) {
        last = this.held;
        const found = await this.#job.spot(last.way, last.at, this.#levels.get(last.way));
        if (this.held) this.spot = found ?? this.spot;
      }
    } finally {
      this.#asking = false;
    }
  }
}
