import { setTimeout as after } from 'node:timers/promises';
import { expect } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { laneNumber } from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import { type Run, runEventSchema } from '../../shared-types/events.ts';
import { foldEvent, foldEvents, newRun } from '../../shared-types/fold.ts';
import { demoAnswerSchema, healthSchema } from '../../shared-types/wire/desk.ts';
import { liveRunSchema, syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { ask, type Press, TestScreen } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';

interface Answered {
  readonly command: Command;
  readonly answer: Answer;
}

/** How many earlier answers are asked for again after each restart. */
const ANSWERS_ASKED_AGAIN = 12;

/** A deck that presses as fast as it is answered, and follows the run by the events it hears. */
class PressingDeck {
  readonly screen: TestScreen;
  /** The run as this deck has seen it last. */
  run: Run;
  /** What the pool's clock is ahead of ours, ms. */
  readonly #aheadMs: number;

  private constructor(screen: TestScreen, run: Run, aheadMs: number) {
    this.screen = screen;
    this.run = run;
    this.#aheadMs = aheadMs;
    screen.socket.on('event', (event) => {
      this.run = foldEvent(this.run, runEventSchema.parse(event));
    });
  }

  static async on(url: string): Promise<PressingDeck> {
    const screen = new TestScreen(url, 'deck');
    const hello = await screen.hello();
    if (!hello.ok || !hello.live.run) throw new Error('nothing is on the wall');
    const { answeredAt } = syncAnswerSchema.parse(await screen.ask('sync', { askedAt: 0 }));
    return new PressingDeck(screen, hello.live.run, answeredAt - performance.now());
  }

  /** @returns the command with its answer, or null when the server was gone before it came */
  async press(press: Press, earlierMs = 0): Promise<Answered | null> {
    const pressedAt = performance.now() + this.#aheadMs - earlierMs;
    const command = commandSchema.parse(this.screen.command(press, this.run, pressedAt));
    const answer = await this.screen.ask('command', command).catch(() => null);
    return answer === null ? null : { command, answer: answerSchema.parse(answer) };
  }

  /** What the server answers to a command of an earlier connection. */
  askAgain({ command }: Answered): Promise<unknown> {
    return this.screen.ask('command', { ...command, device: this.screen.device });
  }
}

/** A server of one data folder that is killed and started again, and everything its decks have been told. */
export class KillVictim {
  readonly #folder: string;
  readonly #random: () => number;
  readonly #answered: Answered[] = [];
  /** The run as decks have seen it, before and after kills. */
  readonly #seen: Run[] = [];
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
    liveRunSchema.parse((await ask(url, 'POST', '/api/runs', { body })).body);
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
      const presses = Array.from({ length: atOnce }, () =>
        deck.press(this.#anyPress(), this.#random() < 0.1 ? 9000 : 0),
      );
      const answers = await Promise.all(presses);
      this.#answered.push(...answers.filter((answered) => answered !== null));
    }
  }

  /** Most are accepted where they fit; a lane that is not there never is, nor is a press nine seconds old. */
  #anyPress(): Press {
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

  /** [FLT1] The server that has come back says what was said before: same answers, a run no older than any seen. */
  async expectNothingLost(): Promise<void> {
    const url = await this.#server.address();
    const deck = await PressingDeck.on(url);
    this.#seen.push(deck.run);
    const acknowledged = this.#answered.flatMap(({ answer }) => (answer.ok ? [answer.seq] : []));
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
    opened.store.close();
    if (!stored || !sheet) throw new Error('the run is gone');
    expect(events.map(({ seq }) => seq)).toEqual(events.map((_, place) => place + 1));
    expect(new Set(events.map(({ command }) => command)).size).toBe(events.length);
    const done = this.#answered.flatMap(({ command, answer }) =>
      answer.ok ? [{ seq: answer.seq, id: command.id }] : [],
    );
    expect(done.map(({ seq }) => ({ seq, id: events[seq - 1]?.command }))).toEqual(done);
    const refused = new Set(this.#answered.flatMap(({ command, answer }) => (answer.ok ? [] : [command.id])));
    expect(events.filter(({ command }) => refused.has(command))).toEqual([]);
    const loaded = newRun(stored.id, stored.hash, sheet, stored.loadedAt);
    for (const seen of this.#seen) expect(foldEvents(loaded, events.slice(0, seen.seq))).toEqual(seen);
  }
}
