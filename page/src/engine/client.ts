// Asks the engine without ever holding up a finger. Two workers: one for quick answers, one for long ones that may be given
// up: its worker is then put down and a fresh one started.
import type { Answer, Question } from "./ask";

interface Waiting {
  resolve: (answer: Answer) => void;
  reject: (why: Error) => void;
}

interface Told {
  id: number;
  answer?: string;
  failed?: string;
}

/** The question was given up for a newer one. */
export class GivenUp extends Error {}

class Line {
  #worker: Worker | undefined;
  #waiting = new Map<number, Waiting>();
  #next = 0;

  ask(question: Question): Promise<Answer> {
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#started().postMessage({ id, question: JSON.stringify(question) });
    });
  }

  giveUp(): void {
    if (this.#waiting.size === 0) return;
    this.#worker?.terminate();
    this.#worker = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of waiting) reject(new GivenUp("given up"));
  }

  #started(): Worker {
    if (this.#worker) return this.#worker;
    const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
    worker.onmessage = (event: MessageEvent<Told>) => this.#told(event.data);
    worker.onerror = () => {
      this.#worker = undefined;
      const waiting = [...this.#waiting.values()];
      this.#waiting.clear();
      for (const { reject } of waiting) reject(new Error("the engine stopped; try again"));
    };
    this.#worker = worker;
    return worker;
  }

  #told({ id, answer, failed }: Told): void {
    const waiting = this.#waiting.get(id);
    this.#waiting.delete(id);
    if (!waiting) return;
    if (answer === undefined) waiting.reject(new Error(failed ?? "the engine gave no answer"));
    else waiting.resolve(JSON.parse(answer) as Answer);
  }
}

const quick = new Line();
const long = new Line();

export const ask = (question: Question): Promise<Answer> => quick.ask(question);

/** Asks a long question; one that is still being answered is given up. */
export function askLong(question: Question): Promise<Answer> {
  long.giveUp();
  return long.ask(question);
}

export const giveUpLong = (): void => long.giveUp();
