import { type ReadonlySignal, signal } from '@preact/signals-core';
import type { RunId } from '../../shared-types/brand.ts';
import { foldMarks, type MarkBook, type MarkEvent, NO_MARKS } from '../../shared-types/marks.ts';
import { marksAnswerSchema } from '../../shared-types/wire/marks.ts';
import type { LinkParts } from './link-parts.ts';

/** How long after they could not be had events are asked for again, ms. */
const ASK_AGAIN_MS = 1000;

/** The marks of the run on the wall, as this page has followed them. */
export class FollowedMarks {
  readonly #parts: Pick<LinkParts, 'fetchJson' | 'later'>;
  readonly #book = signal<MarkBook>(NO_MARKS);
  #run: RunId | null = null;
  /** The last event known to exist. */
  #last = 0;
  #asking = false;

  constructor(parts: Pick<LinkParts, 'fetchJson' | 'later'>) {
    this.#parts = parts;
  }

  get book(): ReadonlySignal<MarkBook> {
    return this.#book;
  }

  /** The run on the wall, and its last mark event as the server says. */
  replace(run: RunId | null, last: number): void {
    if (run !== this.#run) {
      this.#run = run;
      this.#last = 0;
      this.#book.value = NO_MARKS;
    }
    this.#know(last);
  }

  follow(event: MarkEvent): void {
    if (event.run !== this.#run) return;
    if (event.seq === this.#book.value.seq + 1) this.#book.value = foldMarks(this.#book.value, [event]);
    this.#know(event.seq);
  }

  #know(last: number): void {
    this.#last = Math.max(this.#last, last);
    if (this.#last > this.#book.value.seq && !this.#asking) void this.#catchUp();
  }

  async #catchUp(): Promise<void> {
    this.#asking = true;
    while (this.#run !== null && this.#book.value.seq < this.#last) {
      if (await this.#askMore(this.#run)) continue;
      await new Promise<void>((resolve) => this.#parts.later(ASK_AGAIN_MS, resolve));
    }
    this.#asking = false;
  }

  /** @returns false when nothing more could be had */
  async #askMore(run: RunId): Promise<boolean> {
    const path = `/api/runs/${run}/marks?after=${this.#book.value.seq}`;
    const told = await this.#parts.fetchJson(path).catch(() => null);
    const answer = marksAnswerSchema.safeParse(told);
    if (run !== this.#run) return true;
    if (!answer.success || answer.data.events.length === 0) return false;
    this.#book.value = foldMarks(this.#book.value, answer.data.events);
    this.#last = Math.max(this.#last, answer.data.last);
    return true;
  }
}
