// Figures of a report as a person reads them, asked for all at once.
import type { Figure, Triple } from "../engine/report";
import { ask } from "../engine/client";

/** Collects what is to be told; `ask` brings all of it, in the order in which it was asked for. */
export class Told {
  #figures: Figure[] = [];
  constructor(readonly show: string) {}

  figure(figure: Figure): number {
    return this.#figures.push(figure) - 1;
  }

  length(metres: number): number {
    return this.figure(
      this.show === "metric" && Math.abs(metres) < 1 ? { gap_mm: exact(1000 * metres) } : { length_m: exact(metres) },
    );
  }

  /** A length that is cut, with its range: in sixteenths or millimetres. */
  span({ low, likely, high }: Triple): number {
    return this.figure({ gap_mm: { low: 1000 * low, likely: 1000 * likely, high: 1000 * high } });
  }

  async ask(): Promise<{ figures: string[] }> {
    const answer = await ask({ figures: { show: this.show, figures: this.#figures } });
    return { figures: "figures" in answer ? answer.figures : [] };
  }
}

export const exact = (v: number) => ({ low: v, likely: v, high: v });

/** A figure with its name: text, or the number under which `Told` knows it. `why`: id and subject of the point behind it. */
export interface Fact {
  name: string;
  is: number | string;
  more?: string | undefined;
  why?: [string, string?];
}
