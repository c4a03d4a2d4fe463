import type { ReadonlySignal } from '@preact/signals-core';
import { type Instant, instant, type RunId } from '../../shared-types/brand.ts';
import { type Departure, DepartureLog, needsHistory } from '../../shared-types/departures.ts';
import { type DeparturesAnswer, departuresAnswerSchema } from '../../shared-types/wire/marks.ts';
import type { LinkParts } from './link-parts.ts';
import type { LivePractice } from './live.ts';

const ASK_AGAIN_MS = 1000;
/** What is longer ago no event on its way to this page changes any more; if one does, the server is asked. Ms. */
const SETTLED_AFTER_MS = 10_000;

/**
 * [CMD5] Who left when on the run on the wall: what the server knows of before, and since then what the vectors say
 * that this page has followed. So it goes on without the server.
 */
export class FollowedDepartures {
  readonly #parts: Pick<LinkParts, 'fetchJson' | 'later'>;
  #practice: LivePractice | null = null;
  #log = new DepartureLog([], instant(0));
  #asking = false;
  /** Goes up when what is being asked for of the hours before is asked for anew, or no more. */
  #round = 0;

  constructor(parts: Pick<LinkParts, 'fetchJson' | 'later'>, practice: ReadonlySignal<LivePractice | null>) {
    this.#parts = parts;
    practice.subscribe((now) => this.#follow(now));
  }

  /** Everybody who left up to `t`, as far as the server has told. */
  at(t: Instant): readonly Departure[] {
    if (!this.#practice) return [];
    const { sheet, run } = this.#practice;
    this.#log.pass(sheet, run.motions, instant(t - SETTLED_AFTER_MS));
    return [...this.#log.all, ...this.#log.ahead(sheet, run.motions, t)];
  }

  /** A sheet that is still to come says nothing: what was known before serves until then. */
  #follow(now: LivePractice | null): void {
    const before = this.#practice;
    if (!now || (now.run === before?.run && now.sheet === before.sheet)) return;
    this.#practice = now;
    const { run } = now;
    if (run.id !== before?.run.id) this.#forget();
    else if (run.seq === before.run.seq) return;
    else if (run.changedAt !== undefined) {
      const settled = run.seq === before.run.seq + 1 && run.changedAt >= this.#log.until;
      this.#log.pass(before.sheet, before.run.motions, run.changedAt);
      if (settled && !needsHistory(run.changedBy)) return;
    }
    if (run.seq > 0) void this.#catchUp();
  }

  #forget(): void {
    this.#round += 1;
    this.#log = new DepartureLog([], instant(0));
  }

  async #catchUp(): Promise<void> {
    if (this.#asking) return;
    this.#asking = true;
    while (!(await this.#ask())) await this.#pause();
    this.#asking = false;
  }

  /** @returns whether what was answered is of the run as this page knows it */
  async #ask(): Promise<boolean> {
    const asked = this.#practice?.run;
    if (!asked) return true;
    const answer = await this.#told(asked.id, '');
    const { run } = this.#practice ?? {};
    if (!answer || run?.id !== asked.id || answer.seq !== run.seq) return false;
    this.#take(answer, null);
    void this.#askEarlier(asked.id, answer.earlier);
    return true;
  }

  /** The hours before the last one take no times: they come one after the other, when nobody waits any more. */
  async #askEarlier(run: RunId, from: Instant | undefined): Promise<void> {
    this.#round += 1;
    const round = this.#round;
    let before = from;
    while (before !== undefined) {
      const answer = await this.#told(run, `?before=${before}`);
      if (round !== this.#round) return;
      if (answer) before = this.#take(answer, before);
      else await this.#pause();
    }
  }

  /** What was known of the time that the answer is about gives way to it. @returns what to ask for next */
  #take({ departures, until, earlier }: DeparturesAnswer, before: Instant | null): Instant | undefined {
    const older = this.#log.all.filter(({ at }) => earlier !== undefined && at < earlier);
    const newer = this.#log.all.filter(({ at }) => before !== null && at >= before);
    this.#log = new DepartureLog([...older, ...departures, ...newer], before === null ? until : this.#log.until);
    return earlier;
  }

  async #told(run: RunId, query: string): Promise<DeparturesAnswer | null> {
    const told = await this.#parts.fetchJson(`/api/runs/${run}/departures${query}`).catch(() => null);
    return departuresAnswerSchema.safeParse(told).data ?? null;
  }

  #pause(): Promise<void> {
    return new Promise((resolve) => void this.#parts.later(ASK_AGAIN_MS, resolve));
  }
}
