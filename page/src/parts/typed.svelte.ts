// What is being typed into one field of a job.
import type { OpenJob } from "../job.svelte";

/** A hand that rests so long has said something worth keeping, ms. */
const REST_MS = 700;

/** Kept while it is typed, so that a flat battery takes no more than the last moment. */
export class Typed {
  /** What is typed and not yet left; undefined when the field shows what is written. */
  text = $state<string | undefined>();
  #over: (() => void) | undefined;
  #rest: ReturnType<typeof setTimeout> | undefined;
  /** What is being written, until it is. */
  #writing: Promise<unknown> | undefined;

  /** `set` writes what differs from what is written; what it cannot write stays in the field. */
  constructor(
    readonly job: OpenJob,
    readonly set: (text: string) => Promise<void>,
  ) {}

  /** Of a value of the job. `at`: where it is written. `as`: how what is typed is written. */
  static at(job: OpenJob, at: () => string, as: (text: string) => string = (text) => text): Typed {
    return new Typed(job, async (text) => {
      const written = as(text);
      if (written !== (job.value(at()) ?? "")) await job.set(at(), written);
    });
  }

  type(text: string): void {
    this.text = text;
    this.#over ??= this.job.typing();
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.#set(text), REST_MS);
  }

  /** The field is left, or its value chosen: it is written at once. */
  write(text: string): void {
    this.text = undefined;
    this.#set(text);
  }

  /** The field goes away. */
  end(): void {
    if (this.text !== undefined) this.write(this.text);
  }

  #set(text: string): void {
    clearTimeout(this.#rest);
    this.#rest = undefined;
    // One after the other: how a text is written may follow from what was written before.
    const writing = (this.#writing ? this.#writing.then(() => this.set(text)) : this.set(text))
      .catch(() => (this.text ??= text))
      .finally(() => this.#done(writing));
    this.#writing = writing;
  }

  /** Over, unless more is being written, or has been typed in the meantime. */
  #done(writing: Promise<unknown>): void {
    if (this.#writing === writing) this.#writing = undefined;
    if (this.#writing !== undefined || this.#rest !== undefined) return;
    this.#over?.();
    this.#over = undefined;
  }
}
