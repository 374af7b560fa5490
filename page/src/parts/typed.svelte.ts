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

  /** `at`: where it is written. `as`: how what is typed is written. */
  constructor(
    readonly job: OpenJob,
    readonly at: () => string,
    readonly as: (text: string) => string = (text) => text,
  ) {}

  type(text: string): void {
    this.text = text;
    this.#over ??= this.job.typing();
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.#set(text), REST_MS);
  }

  /** The field is left, or its value chosen: it is written at once. */
  write(text: string): void {
    clearTimeout(this.#rest);
    this.text = undefined;
    if (this.as(text) !== (this.job.value(this.at()) ?? "")) this.#set(text);
    else this.#done();
  }

  /** The field goes away. */
  end(): void {
    if (this.text !== undefined) this.write(this.text);
  }

  #set(text: string): void {
    void this.job.set(this.at(), this.as(text)).finally(() => this.#done());
  }

  #done(): void {
    this.#over?.();
    this.#over = undefined;
  }
}
