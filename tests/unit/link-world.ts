import type { LinkParts } from '../../client/common/link-parts.ts';
import {
  commandIdSchema,
  deviceIdSchema,
  instant,
  laneNumber,
  ms,
  runIdSchema,
  sheetHashSchema,
} from '../../shared-types/brand.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { newRun } from '../../shared-types/fold.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';

const HEX = 'abcdef0123456789abcdef0123456789';
export const DEVICE = deviceIdSchema.parse(HEX);
const OTHER_DEVICE = deviceIdSchema.parse(HEX.replace('a', '1'));
export const RUN = runIdSchema.parse(HEX.replace('a', '0'));
export const HASH = sheetHashSchema.parse(HEX + HEX);

/** One lane that is nothing but there: enough for a link, which reads nothing of a sheet. */
export const SHEET: Sheet = {
  title: 'Two lengths',
  course: 'SCM',
  conventions: { percent: 'speed', pace: 'even', easyShare: 0.65 },
  groups: [],
  durationMs: ms(0),
  distance: 0,
  sections: [],
  sets: [],
  lanes: [
    { lane: laneNumber(1), group: 'A', apartMs: ms(5000), durationMs: ms(0), distance: 0, swimmers: [], steps: [] },
  ],
  joins: [],
  targets: [],
  byStyle: {},
  messages: [],
};

const runAt = (seq: number) => ({ ...newRun(RUN, HASH, SHEET, instant(0)), seq });
export const liveAt = (seq: number) => ({ run: runAt(seq), labels: {}, title: 'Two lengths' });

export const eventOf = (seq: number, device = OTHER_DEVICE): RunEvent => ({
  run: RUN,
  seq,
  kind: seq === 1 ? 'start' : 'hold',
  command: commandIdSchema.parse(HEX),
  device,
  at: instant(seq * 1000),
  decidedAt: instant(seq * 1000),
  state: seq % 2 === 1 ? 'running' : 'held',
  motions: runAt(0).motions,
});

type Asked = { readonly event: string; readonly payload: unknown };

/** Everything a link touches, moved by hand: time, timers, a socket, and what the server would answer. */
export class LinkWorld {
  pageMs = 0;
  /** The device's time of day is this far ahead of its monotonic clock. */
  wallAheadMs = 5_000_000;
  /** The pool's clock is this far ahead of the page's. */
  poolAheadMs = 1_000_000;
  /** What the server answers to each event; never, when it gives null. */
  readonly answers = new Map<string, (payload: unknown) => unknown>();
  readonly sheets = new Map<string, unknown>([[`/api/sheets/${HASH}?role=deck`, SHEET]]);
  readonly asked: Asked[] = [];
  reachable = true;
  #open = false;
  #timers: { readonly at: number; readonly call: () => void }[] = [];
  readonly #heard = new Map<string, (payload: unknown) => void>();
  #onOpen = (): void => {};
  #onLost = (_final: boolean): void => {};

  constructor() {
    this.answers.set('hello', () => this.helloAnswer(0));
    this.answers.set('sync', () => ({ receivedAt: this.poolMs, answeredAt: this.poolMs }));
    this.answers.set('status', () => ({ ok: true }));
  }

  get poolMs(): number {
    return this.pageMs + this.poolAheadMs;
  }

  helloAnswer(seq: number) {
    const settings = { timezone: 'Europe/Lisbon', trimMs: 0, gridMs: 5000, leadInMs: 3000 };
    return { ok: true, protocol: PROTOCOL, boot: 'first', live: liveAt(seq), settings };
  }

  readonly parts: LinkParts = {
    device: DEVICE,
    timezone: 'UTC',
    newCommandId: () => commandIdSchema.parse(HEX),
    pageNow: () => this.pageMs,
    wallNow: () => this.pageMs + this.wallAheadMs,
    fetchJson: async (path) => {
      if (!this.sheets.has(path)) throw new Error('no such sheet');
      return this.sheets.get(path);
    },
    later: (delayMs, call) => {
      const timer = { at: this.pageMs + delayMs, call };
      this.#timers.push(timer);
      return () => {
        this.#timers = this.#timers.filter((other) => other !== timer);
      };
    },
    socket: {
      open: () => this.connect(),
      close: () => {
        this.#open = false;
      },
      ask: (event, payload, withinMs) => this.#ask(event, payload, withinMs),
      onOpen: (heard) => {
        this.#onOpen = heard;
      },
      onLost: (heard) => {
        this.#onLost = heard;
      },
      on: (event, heard) => void this.#heard.set(event, heard),
    },
  };

  connect(): void {
    if (this.#open || !this.reachable) return;
    this.#open = true;
    this.#onOpen();
  }

  /** The connection breaks; `final` when the server ended it. */
  lose(final = false): void {
    this.#open = false;
    this.#onLost(final);
  }

  send(event: string, payload: unknown): void {
    this.#heard.get(event)?.(payload);
  }

  timesAsked(event: string): number {
    return this.asked.filter((one) => one.event === event).length;
  }

  /** Lets `delayMs` pass, timer by timer, with everything that hangs on promises. */
  async pass(delayMs: number): Promise<void> {
    const until = this.pageMs + delayMs;
    await this.settle();
    for (;;) {
      const next = this.#timers.toSorted((a, b) => a.at - b.at)[0];
      if (!next || next.at > until) break;
      this.#timers = this.#timers.filter((timer) => timer !== next);
      this.pageMs = next.at;
      next.call();
      await this.settle();
    }
    this.pageMs = until;
  }

  async settle(): Promise<void> {
    for (let turn = 0; turn < 20; turn += 1) await Promise.resolve();
  }

  #ask(event: string, payload: unknown, withinMs: number): Promise<unknown> {
    if (!this.#open) return Promise.reject(new Error('not connected'));
    this.asked.push({ event, payload });
    const answer = this.answers.get(event)?.(payload) ?? null;
    if (answer !== null) return Promise.resolve(answer);
    return new Promise((_, reject) => this.parts.later(withinMs, () => reject(new Error('no answer'))));
  }
}
