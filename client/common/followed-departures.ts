import type { ReadonlySignal } from '@preact/signals-core';
import { type Instant, instant } from '../../shared-types/brand.ts';
import { type Departure, DepartureLog, needsHistory } from '../../shared-types/departures.ts';
import { departuresAnswerSchema } from '../../shared-types/wire/marks.ts';
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

  constructor(parts: Pick<LinkParts, 'fetchJson' | 'later'>, practice: ReadonlySignal<LivePractice | null>) {
    this.#parts = parts;
    practice.subscribe((now) => this.#follow(now));
  }

  /** Everybody who left up to `t`, of the last hour. */
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
    if (run.id !== before?.run.id) this.#log = new DepartureLog([], instant(0));
    else if (run.seq === before.run.seq) return;
    else if (run.changedAt !== undefined) {
      const settled = run.seq === before.run.seq + 1 && run.changedAt >= this.#log.until;
      this.#log.pass(before.sheet, before.run.motions, run.changedAt);
      if (settled && !needsHistory(run.changedBy)) return;
    }
    if (run.seq > 0) void this.#catchUp();
  }

  async #catchUp(): Promise<void> {
    if (this.#asking) return;
    this.#asking = true;
    while (!(await this.#ask())) await new Promise<void>((resolve) => this.#parts.later(ASK_AGAIN_MS, resolve));
    this.#asking = false;
  }

  /** @returns whether what was answered is of the run as this page knows it */
  async #ask(): Promise<boolean> {
    const asked = this.#practice?.run;
    if (!asked) return true;
    const told = await this.#parts.fetchJson(`/api/runs/${asked.id}/departures`).catch(() => null);
    const answer = departuresAnswerSchema.safeParse(told);
    const { run } = this.#practice ?? {};
    if (!answer.success || run?.id !== asked.id || answer.data.seq !== run.seq) return false;
    this.#log = new DepartureLog(answer.data.departures, answer.data.until);
    return true;
  }
}
