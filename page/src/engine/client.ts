// Asks the engine without ever holding up a finger. A worker for quick answers, one each for long ones, for drawings and for a
// year; all but the first may be given up: their worker is then put down and a fresh one started.
import type { Answer, Question } from "./ask";
import { catalogues, say } from "../words";
import { REST } from "./parts";

/** Hears how much of a long answer is over, 0 to 1. */
type Heard = (share: number) => void;

interface Waiting {
  heard: Heard | undefined;
  resolve: (answer: Answer) => void;
  reject: (why: Error) => void;
}

interface Told {
  id: number;
  /** How much is over, while there is no answer yet. */
  share?: number;
  answer?: string;
  /** How long the engine itself took, ms. */
  took?: number;
  failed?: string;
}

/** Who waits for no answer. */
const NOBODY = -1;

/** The question was given up for a newer one. */
export class GivenUp extends Error {}

class Line {
  #worker: Worker | undefined;
  #waiting = new Map<number, Waiting>();
  #next = 0;

  ask(question: Question, heard?: Heard): Promise<Answer> {
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, heard });
      this.#started();
      this.#send(id, question);
    });
  }

  #send(id: number, question: Question): void {
    this.#worker?.postMessage({ id, question: JSON.stringify(question) });
  }

  giveUp(): void {
    if (this.#waiting.size === 0) return;
    this.#worker?.terminate();
    this.#worker = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of waiting) reject(new GivenUp("given up"));
  }

  #started(): void {
    if (this.#worker) return;
    const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
    worker.onmessage = (event: MessageEvent<Told>) => this.#told(event.data);
    worker.onerror = () => {
      this.#worker = undefined;
      const waiting = [...this.#waiting.values()];
      this.#waiting.clear();
      for (const { reject } of waiting) reject(new Error(say("page.engine.stopped")));
    };
    this.#worker = worker;
    // It speaks before it is asked anything.
    this.#send(NOBODY, { speak: { catalogues } });
  }

  /** How long the engine took for the last answer, ms. */
  took = 0;

  #told({ id, share, answer, took, failed }: Told): void {
    const waiting = this.#waiting.get(id);
    if (share !== undefined) {
      waiting?.heard?.(share);
      return;
    }
    this.took = took ?? 0;
    this.#waiting.delete(id);
    if (!waiting) return;
    if (answer === undefined) waiting.reject(new Error(failed ?? say("page.engine.no-answer")));
    else waiting.resolve(JSON.parse(answer) as Answer);
  }
}

const quick = new Line();
const long = new Line();
const drawing = new Line();
const year = new Line();

/** How long the engine itself took for the last quick answer, ms. */
export const engineTook = (): number => quick.took;

let isRestHere = false;

/** Asks a short question. Behind the first answer about a job the rest of the engine comes, so that it is at hand when it is needed. */
export async function ask(question: Question): Promise<Answer> {
  const answer = await quick.ask(question);
  if (!isRestHere && "judged" in answer) {
    isRestHere = true;
    fetch(REST).catch(() => (isRestHere = false));
  }
  return answer;
}

/** Asks a long question; one that is still being answered is given up. */
export function askLong(question: Question): Promise<Answer> {
  long.giveUp();
  return long.ask(question);
}

export const giveUpLong = (): void => long.giveUp();

/** Asks for drawings; those that are still being made are given up. */
export function askDrawings(question: Question): Promise<Answer> {
  drawing.giveUp();
  return drawing.ask(question);
}

export const giveUpDrawings = (): void => drawing.giveUp();

/** Asks for a year; one that is still being followed is given up. */
export function askYear(question: Question, heard: Heard): Promise<Answer> {
  year.giveUp();
  return year.ask(question, heard);
}

export const giveUpYear = (): void => year.giveUp();
