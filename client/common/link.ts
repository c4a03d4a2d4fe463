import './schemas-without-eval.ts';
import { signal } from '@preact/signals-core';
import type { z } from 'zod';
import { instant } from '../../shared-types/brand.ts';
import { type Answer, answerSchema } from '../../shared-types/commands.ts';
import type { Hello, Status } from '../../shared-types/wire/from-screen.ts';
import {
  BROADCASTS,
  type Changed,
  failureSchema,
  type HelloAnswer,
  helloAnswerSchema,
  type LiveRun,
  type ScreenInfo,
  type Settings,
} from '../../shared-types/wire/from-server.ts';
import { PROTOCOL, type Role } from '../../shared-types/wire/protocol.ts';
import type { Identify, WallInfo, WallSetUp } from '../../shared-types/wire/walls.ts';
import { browserParts, type LinkParts } from './link-parts.ts';
import { LinkTimes } from './link-times.ts';
import type { Link, LinkState, Press } from './live.ts';
import { FollowedRun } from './live-run.ts';
import { SyncedClock } from './pool-clock.ts';
import { SyncRounds } from './sync-rounds.ts';

/** [CMD8] So long without a word from the server and the page says that it is alone, ms. */
const SILENCE_MS = 3000;
const ANSWER_WITHIN_MS = 3000;
/** The socket does not come back by itself when the server closed it: we do. */
const OPEN_AGAIN_MS = 1000;
/** After a refusal we ask again now and then: it may have been the server's own trouble. */
const AFTER_REFUSAL_MS = 10_000;

const NOT_UNDERSTOOD = 'The server answered in a way this page does not understand. Reload the page.';
const NO_RUN: Answer = {
  ok: false,
  code: 'no-run',
  message: 'There is no practice on the wall.',
  fix: 'Put one on the wall from the desk.',
};

/** Opens this page's one connection to the server it came from. In tests `parts` stand in for the browser. */
export function openLink({ role, parts = browserParts() }: { role: Role; parts?: LinkParts }): Link {
  return new ServerLink(role, parts);
}

/** To find out the device's time zone takes a browser as long as a picture; mostly the server's is there before it is needed. */
const settingsUntilTold = (parts: LinkParts): Settings => ({
  get timezone() {
    return parts.timezone;
  },
  trimMs: 0,
  gridMs: 5000,
  leadInMs: 3000,
});

class ServerLink implements Link {
  readonly clock: SyncedClock;
  readonly state = signal<LinkState>('connecting');
  readonly refusal = signal<string | null>(null);
  readonly settings;
  readonly screens = signal<readonly ScreenInfo[]>([]);
  readonly wall = signal<WallSetUp | null>(null);
  readonly identify = signal<Identify | null>(null);
  readonly walls = signal<readonly WallInfo[]>([]);
  readonly changed = signal<Changed | null>(null);
  readonly #role: Role;
  readonly #parts: LinkParts;
  readonly #run: FollowedRun;
  readonly #rounds: SyncRounds;
  readonly times: LinkTimes;
  #status: Status | null = null;
  #boot: string | null = null;
  #greeted = false;
  #greeting = false;
  #callOffSilence: () => void = () => {};

  constructor(role: Role, parts: LinkParts) {
    this.#role = role;
    this.#parts = parts;
    this.clock = new SyncedClock(parts);
    this.settings = signal<Settings>(settingsUntilTold(parts));
    this.#run = new FollowedRun(parts, (hash) => `/api/sheets/${hash}?role=${role}`);
    this.times = new LinkTimes({
      parts,
      // A wall takes no times and asks for none.
      practice: role === 'wall' ? signal(null) : this.#run.practice,
      isLive: () => this.#greeted && role !== 'wall',
      ask: (event, payload) => this.#ask(event, payload),
    });
    this.#rounds = new SyncRounds(parts, this.clock, () => this.#heard());
    this.#listen();
    parts.socket.open();
  }

  get practice(): Link['practice'] {
    return this.#run.practice;
  }

  get told(): Link['told'] {
    return this.#run.told;
  }

  async press(press: Press): Promise<Answer | null> {
    const run = this.#run.run;
    if (!run) return NO_RUN;
    const command = {
      ...press,
      pressedAt: instant(Math.round(press.pressedAt)),
      id: this.#parts.newCommandId(),
      device: this.#parts.device,
      run: run.id,
      basedOnSeq: run.seq,
    };
    const told = await this.#ask('command', command);
    const answer = answerSchema.safeParse(told);
    if (answer.success) {
      // What overtook the press may not have reached this page, or never will.
      if (!answer.data.ok && answer.data.code === 'overtaken') void this.#greet();
      return answer.data;
    }
    const failure = failureSchema.safeParse(told);
    return failure.success ? { ok: false, code: 'not-stored', message: failure.data.message } : null;
  }

  report(status: Status): void {
    this.#status = status;
    if (this.#greeted) void this.#ask('status', status);
  }

  #listen(): void {
    const { socket } = this.#parts;
    socket.onOpen(() => void this.#greet());
    socket.onLost((final) => this.#lost(final));
    socket.on('event', (payload) => {
      const event = BROADCASTS.event.safeParse(payload);
      this.#heard();
      if (!event.success || !this.#run.follow(event.data)) void this.#greet();
    });
    socket.on('run', (payload) => {
      const live = BROADCASTS.run.safeParse(payload);
      this.#heard();
      if (live.success) this.#take(live.data, 0);
      else void this.#greet();
    });
    socket.on('mark', (payload) => {
      this.#heard();
      if (!this.times.follow(payload)) void this.#greet();
    });
    this.#follow('screens', BROADCASTS.screens, this.screens);
    this.#follow('wall', BROADCASTS.wall, this.wall);
    this.#follow('identify', BROADCASTS.identify, this.identify);
    this.#follow('walls', BROADCASTS.walls, this.walls);
    this.#follow('changed', BROADCASTS.changed, this.changed);
  }

  /** Of these broadcasts only the last counts, and one that cannot be read is left out. */
  #follow<T>(event: string, schema: z.ZodType<T>, shown: { value: T | null }): void {
    this.#parts.socket.on(event, (payload) => {
      const told = schema.safeParse(payload);
      this.#heard();
      if (told.success) shown.value = told.data;
    });
  }

  /** Says who we are and takes over the whole state; also how a page catches up when it has missed something. */
  async #greet(): Promise<void> {
    if (this.#greeting) return;
    this.#greeting = true;
    const hello: Hello = { protocols: [PROTOCOL], role: this.#role, device: this.#parts.device };
    const told = await this.#ask('hello', hello);
    this.#greeting = false;
    if (told === null) return this.#openAgain(OPEN_AGAIN_MS);
    const answer = helloAnswerSchema.safeParse(told);
    if (!answer.success) this.#refused(NOT_UNDERSTOOD);
    else if (!answer.data.ok) this.#refused([answer.data.message, answer.data.fix ?? ''].join(' ').trim());
    else this.#welcome(answer.data);
  }

  #welcome({ boot, live, markSeq, settings, wall }: Extract<HelloAnswer, { ok: true }>): void {
    const first = !this.#greeted;
    this.#greeted = true;
    this.refusal.value = null;
    this.settings.value = settings;
    if (wall) this.wall.value = wall;
    this.#take(live, markSeq ?? 0);
    this.#heard();
    // Of a clock that was taken anew nothing is known; one that a server went on with is still the same, without a jump.
    if (this.#boot !== null && this.#boot !== boot) this.clock.restart();
    this.#boot = boot;
    if (!first) return;
    this.#rounds.begin();
    if (this.#status) this.report({ ...this.#status, syncBoundMs: this.clock.boundMs() });
  }

  #take(live: LiveRun, markSeq: number): void {
    this.#run.replace(live);
    this.times.replace(live.run?.id ?? null, markSeq);
  }

  #refused(why: string): void {
    this.refusal.value = why;
    this.state.value = 'refused';
    this.#openAgain(AFTER_REFUSAL_MS);
  }

  #lost(final: boolean): void {
    this.#greeted = false;
    this.#rounds.end();
    this.#alone();
    if (final) this.#parts.later(OPEN_AGAIN_MS, () => this.#parts.socket.open());
  }

  /** Leaves the connection and makes a new one after `delayMs`. */
  #openAgain(delayMs: number): void {
    this.#greeted = false;
    this.#rounds.end();
    this.#alone();
    this.#parts.socket.close();
    this.#parts.later(delayMs, () => this.#parts.socket.open());
  }

  /** Something came from the server. */
  #heard(): void {
    if (!this.#greeted) return;
    this.state.value = 'live';
    this.#callOffSilence();
    this.#callOffSilence = this.#parts.later(SILENCE_MS, () => this.#alone());
  }

  #alone(): void {
    this.#callOffSilence();
    if (this.state.value === 'live') this.state.value = 'alone';
  }

  /** @returns null when there is no answer in time */
  #ask(event: string, payload: unknown): Promise<unknown> {
    return this.#parts.socket.ask(event, payload, ANSWER_WITHIN_MS).catch(() => null);
  }
}
