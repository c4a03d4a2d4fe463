import { type ReadonlySignal, signal } from '@preact/signals-core';
import { type CommandId, type Instant, instant, type RunId } from '../../shared-types/brand.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { MarkBook, MarkCommand } from '../../shared-types/marks.ts';
import { BROADCASTS, failureSchema } from '../../shared-types/wire/from-server.ts';
import { FollowedDepartures } from './followed-departures.ts';
import { FollowedMarks } from './followed-marks.ts';
import type { LinkParts } from './link-parts.ts';
import type { LivePractice, Marking, Times } from './live.ts';
import { Outbox } from './outbox.ts';

export interface TimesParts {
  readonly parts: LinkParts;
  readonly practice: ReadonlySignal<LivePractice | null>;
  isLive(): boolean;
  /** @returns null when there is no answer in time */
  ask(event: string, payload: unknown): Promise<unknown>;
}

/** [CMD5] [CMD8] The times of a deck's or a desk's link. */
export class LinkTimes implements Times {
  readonly refusal = signal<string | null>(null);
  readonly heard = signal<Times['heard']['value']>(null);
  readonly #with: TimesParts;
  readonly #marks: FollowedMarks;
  readonly #departures: FollowedDepartures;
  readonly #outbox: Outbox;
  #run: RunId | null = null;

  constructor(given: TimesParts) {
    const { parts, practice, isLive } = given;
    this.#with = given;
    this.#marks = new FollowedMarks(parts);
    this.#departures = new FollowedDepartures(parts, practice);
    this.#outbox = new Outbox({
      storage: parts.marksKeptIn ?? null,
      wallNow: () => parts.wallNow(),
      later: (delayMs, call) => parts.later(delayMs, call),
      isLive,
      send: (command) => this.#send(command),
    });
  }

  get book(): ReadonlySignal<MarkBook> {
    return this.#marks.book;
  }

  get waiting(): ReadonlySignal<readonly MarkCommand[]> {
    return this.#outbox.waiting;
  }

  departuresAt(t: Instant): readonly Departure[] {
    return this.#departures.at(t);
  }

  mark(marking: Marking): CommandId | null {
    if (this.#run === null) return null;
    const { device, newCommandId } = this.#with.parts;
    const id = newCommandId();
    const command: MarkCommand = { ...whole(marking), id, device, run: this.#run };
    return this.#outbox.add(command) ? id : null;
  }

  /** The run on the wall, and its last mark event; what waits is sent. */
  replace(run: RunId | null, markSeq: number): void {
    this.#run = run;
    this.#marks.replace(run, markSeq);
    this.#outbox.flush();
  }

  /** @returns false when it is not one */
  follow(payload: unknown): boolean {
    const event = BROADCASTS.mark.safeParse(payload);
    if (event.success) {
      this.#marks.follow(event.data);
      this.heard.value = { run: event.data.run, seq: event.data.seq };
    }
    return event.success;
  }

  async #send(command: MarkCommand): Promise<boolean> {
    const told = await this.#with.ask('mark', command);
    const answer = answerSchema.safeParse(told);
    if (answer.success) {
      if (answer.data.ok) return true;
      if (answer.data.code === 'not-stored') return false;
      this.refusal.value = answer.data.message;
      return true;
    }
    const failure = failureSchema.safeParse(told);
    if (!failure.success || failure.data.code !== 'bad-message') return false;
    this.refusal.value = failure.data.message;
    return true;
  }
}

/** Instants travel in whole milliseconds. */
const whole = (marking: Marking): Marking =>
  'pressedAt' in marking ? { ...marking, pressedAt: instant(Math.round(marking.pressedAt)) } : marking;
