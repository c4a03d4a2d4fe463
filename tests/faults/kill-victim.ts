import { setTimeout as after } from 'node:timers/promises';
import { expect } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { laneNumber, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { Run, RunEvent } from '../../shared-types/events.ts';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import type { MarkEvent } from '../../shared-types/marks.ts';
import { demoAnswerSchema, healthSchema } from '../../shared-types/wire/desk.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { ask, type Press } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { type Answered, type Marking, PressingDeck } from './pressing-deck.ts';

/** How many earlier answers are asked for again after each restart. */
const ANSWERS_ASKED_AGAIN = 12;

/** Share of what is sent that are times. */
const MARKS_SHARE = 0.4;
/** Share of the presses that change the practice: each stores another sheet. */
const CHANGES_SHARE = 0.02;

/** A server of one data folder that is killed and started again, and everything its decks have been told. */
export class KillVictim {
  readonly #folder: string;
  readonly #random: () => number;
  readonly #answered: Answered[] = [];
  /** The run as decks have seen it, before and after kills. */
  readonly #seen: Run[] = [];
  readonly #marksHeard: MarkEvent[] = [];
  #swimmers: readonly SwimmerId[] = [];
  #server: ServerProcess;

  constructor(folder: string, random: () => number) {
    this.#folder = folder;
    this.#random = random;
    this.#server = this.#started();
  }

  get answered(): readonly Answered[] {
    return this.#answered;
  }

  #started(): ServerProcess {
    // What Node has compiled is kept, by a process that ends in peace, for those that come after.
    const cache = { NODE_COMPILE_CACHE: `${this.#folder}/compiled` };
    return new ServerProcess(['--port', '0', '--data', this.#folder], cache);
  }

  #one<T>(choices: readonly T[]): T {
    const choice = choices[Math.floor(this.#random() * choices.length)];
    if (choice === undefined) throw new RangeError('nothing to choose from');
    return choice;
  }

  async putOnWall(): Promise<void> {
    const url = await this.#server.address();
    const [practice] = demoAnswerSchema.parse((await ask(url, 'POST', '/api/demo')).body).practices;
    const body = { practice: practice?.id, version: 1, replace: false };
    const live = liveRunSchema.parse((await ask(url, 'POST', '/api/runs', { body })).body);
    this.#swimmers = Object.keys(live.labels).map((id) => swimmerIdSchema.parse(id));
    await this.#server.signal('SIGTERM');
    this.#server = this.#started();
  }

  /** Lets two decks press at the server and kills it at a random moment, now and then once more as it starts. */
  async kill(): Promise<void> {
    const url = await this.#server.address();
    const decks = await Promise.all([PressingDeck.on(url), PressingDeck.on(url)]);
    const pressing = decks.map((deck) => this.#pressUntilLost(deck));
    await this.#killAfter(this.#random() * 250);
    await Promise.all(pressing);
    this.#seen.push(...decks.map(({ run }) => run));
    this.#marksHeard.push(...decks.flatMap(({ marksHeard }) => marksHeard));
    if (this.#random() < 0.15) await this.#killAfter(this.#random() * 1000);
  }

  async #killAfter(afterMs: number): Promise<void> {
    await after(afterMs);
    await this.#server.signal('SIGKILL');
    this.#server = this.#started();
  }

  async #pressUntilLost(deck: PressingDeck): Promise<void> {
    while (deck.screen.socket.connected) {
      const atOnce = 1 + Math.floor(this.#random() * 4);
      const sent = Array.from({ length: atOnce }, () =>
        this.#random() < MARKS_SHARE
          ? deck.mark(this.#anyMark())
          : deck.press(this.#anyPress(), this.#random() < 0.1 ? 9000 : 0),
      );
      const answers = await Promise.all(sent);
      this.#answered.push(...answers.filter((answered) => answered !== null));
    }
  }

  /** Most are accepted where they fit; a lane that is not there never is, nor is a press nine seconds old. */
  #anyPress(): Press {
    if (this.#random() < CHANGES_SHARE) {
      const kind = this.#one(['sitOut', 'rejoin'] as const);
      return { kind: 'change', change: { kind, swimmer: this.#one(this.#swimmers) } };
    }
    return this.#one<Press>([
      { kind: 'start', when: 'now' },
      { kind: 'hold' },
      { kind: 'hold' },
      { kind: 'resume', when: 'now' },
      { kind: 'resume', when: 'grid' },
      { kind: 'next', when: 'now' },
      { kind: 'back', when: 'now' },
      { kind: 'shift', lane: laneNumber(1), byMs: 5000 },
      { kind: 'shift', lane: laneNumber(2), byMs: -5000 },
      { kind: 'shift', lane: laneNumber(9), byMs: 5000 },
    ]);
  }

  /** Times of anybody, most of whom have not left on the rep; voids of earlier ones, which may be void already. */
  #anyMark(): Marking {
    const earlier = this.#answered.flatMap(({ command }) => (command.kind === 'mark' ? [command.id] : []));
    if (earlier.length > 0 && this.#random() < 0.3)
      return { kind: this.#one(['void', 'restore'] as const), mark: this.#one(earlier) };
    return { kind: 'mark', swimmer: this.#one(this.#swimmers), step: '3.0.0.1', pass: 1, distance: 50 };
  }

  /** [FLT1] The server that has come back says what was said before: same answers, a run no older than any seen. */
  async expectNothingLost(): Promise<void> {
    const url = await this.#server.address();
    const deck = await PressingDeck.on(url);
    this.#seen.push(deck.run);
    const acknowledged = this.#answered.flatMap(({ event, answer }) =>
      event === 'command' && answer.ok ? [answer.seq] : [],
    );
    expect(deck.run.seq).toBeGreaterThanOrEqual(Math.max(0, ...acknowledged, ...this.#seen.map(({ seq }) => seq)));
    const again = [...this.#answered.slice(-ANSWERS_ASKED_AGAIN / 2)];
    while (again.length < ANSWERS_ASKED_AGAIN && this.#answered.length > 0) again.push(this.#one(this.#answered));
    const answers = await Promise.all(again.map((answered) => deck.askAgain(answered)));
    expect(answers).toEqual(again.map(({ answer }) => answer));
    const health = healthSchema.parse((await ask(url, 'GET', '/health')).body);
    // Asking again has changed nothing.
    expect(health).toMatchObject({ ok: true, database: 'ok', run: { seq: deck.run.seq } });
    expect(this.#server.stderr).not.toContain('"what":"fault"');
    deck.screen.socket.disconnect();
  }

  /** [FLT1] Every acknowledged event is in the database, once and in order, and makes every run that was seen. */
  async expectAllOnDisk(): Promise<void> {
    await this.#server.address();
    expect(await this.#server.signal('SIGTERM')).toBe(0);
    const opened = openStore(this.#folder);
    if (!opened.ok) throw new Error(opened.message);
    const { runs } = opened.store;
    const stored = runs.liveRun();
    const sheet = stored && runs.sheet(stored.hash);
    const events = stored ? runs.eventsOf(stored.id) : [];
    const marks = stored ? opened.store.marks.eventsOf(stored.id) : [];
    opened.store.close();
    if (!stored || !sheet) throw new Error('the run is gone');
    this.#expectAnswersIn('command', events);
    this.#expectAnswersIn('mark', marks);
    const loaded = newRun(stored.id, stored.hash, sheet, stored.loadedAt);
    for (const seen of this.#seen) expect(foldEvents(loaded, events.slice(0, seen.seq))).toEqual(seen);
    for (const heard of this.#marksHeard) expect(marks[heard.seq - 1]).toEqual(heard);
  }

  /** Numbered without a gap, every command's effect once and where the answer said, nothing of what was refused. */
  #expectAnswersIn(kind: Answered['event'], events: readonly Pick<RunEvent | MarkEvent, 'seq' | 'command'>[]): void {
    expect(events.map(({ seq }) => seq)).toEqual(events.map((_, place) => place + 1));
    expect(new Set(events.map(({ command }) => command)).size).toBe(events.length);
    const answered = this.#answered.filter(({ event }) => event === kind);
    const byCommand = new Map(events.map(({ command, seq }) => [command, seq]));
    for (const { command, answer } of answered) {
      const seq = byCommand.get(command.id);
      if (!answer.ok) expect(seq).toBeUndefined();
      // A repair of what is so already is no event; its answer names the last there was.
      else if (kind === 'command' || command.kind === 'mark' || seq !== undefined) expect(seq).toBe(answer.seq);
    }
  }
}
