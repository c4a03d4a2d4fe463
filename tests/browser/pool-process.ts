import { once } from 'node:events';
import { createServer } from 'node:net';
import { randomId } from '../../server/ids.ts';
import { openStore } from '../../server/store/store.ts';
import { type Board, boardAt } from '../../shared-types/board/board.ts';
import { instant, practiceIdSchema } from '../../shared-types/brand.ts';
import { type Answer, answerSchema } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import type { MarkEvent } from '../../shared-types/marks.ts';
import { type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import { type Labels, liveRunSchema, type Settings, syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { marksAnswerSchema } from '../../shared-types/wire/marks.ts';
import { ask, type Press, TestScreen } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';
import type { TruePoolClock } from './true-time.ts';

/** Below the ports that systems hand out by themselves: while the server is gone nobody else takes its port. */
const FIRST_PORT = 20_000;
const PORTS = 10_000;

async function freePort(): Promise<number> {
  const port = FIRST_PORT + Math.floor(Math.random() * PORTS);
  const probe = createServer().listen(port, '127.0.0.1');
  const isFree = await once(probe, 'listening').then(
    () => true,
    () => false,
  );
  await new Promise((resolve) => probe.close(resolve));
  return isFree ? port : freePort();
}

/** The run on the wall with all that its board needs. */
export interface RunOnWall {
  readonly run: Run;
  readonly sheet: Sheet;
  readonly labels: Labels;
  readonly settings: Settings;
}

/** What a wall should show of a run at an instant. */
export const boardOf = ({ run, sheet, labels, settings }: RunOnWall, at: number): Board =>
  boardAt(sheet, run, instant(at), { labels, face: settings });

/** The server in a process of its own, that can be killed and started again where it was. */
export class PoolProcess {
  readonly port: number;
  readonly #folder = temporaryFolder();
  readonly #environment: Readonly<Record<string, string>>;
  #process: ServerProcess;

  private constructor(port: number, environment: Readonly<Record<string, string>>) {
    this.port = port;
    this.#environment = environment;
    this.#process = this.#started();
  }

  /** With the demo squad and a practice of this text on the wall. */
  static async withPractice(text: string, environment: Readonly<Record<string, string>> = {}): Promise<PoolProcess> {
    const pool = new PoolProcess(await freePort(), environment);
    const url = await pool.#process.address();
    const practice = practiceIdSchema.parse(randomId());
    await ask(url, 'POST', '/api/demo');
    await ask(url, 'PUT', `/api/practices/${practice}`, { body: { text, baseVersion: 0 } });
    const put = await ask(url, 'POST', '/api/runs', { body: { practice, version: 1, replace: false } });
    if (!liveRunSchema.parse(put.body).run) throw new Error('nothing is on the wall');
    return pool;
  }

  get url(): string {
    return `http://127.0.0.1:${this.port}`;
  }

  /** Its log so far. */
  said(): string {
    return this.#process.stderr;
  }

  kill(): Promise<number | null> {
    return this.#process.signal('SIGKILL');
  }

  async startAgain(): Promise<void> {
    this.#process = this.#started();
    await this.#process.address();
  }

  /** What the clock of a server that was killed counts from. */
  clockOnDisk(): TruePoolClock {
    const opened = openStore(this.#folder);
    if (!opened.ok) throw new Error(opened.message);
    const anchor = opened.store.anchor.anchor();
    opened.store.close();
    if (!anchor) throw new Error('no anchor');
    return { at: (machineMs) => anchor.wallMs + (machineMs - anchor.monotonicMs) };
  }

  async live(): Promise<RunOnWall> {
    const screen = new TestScreen(this.url, 'wall');
    const hello = await screen.hello();
    screen.socket.disconnect();
    if (!hello.ok || !hello.live.run) throw new Error('nothing is on the wall');
    const { run, labels } = hello.live;
    const told = await ask(this.url, 'GET', `/api/sheets/${run.sheet}?role=wall`);
    return { run, labels, settings: hello.settings, sheet: sheetSchema.parse(told.body) };
  }

  async marksOf(run: Pick<Run, 'id'>): Promise<MarkEvent[]> {
    const told = await ask(this.url, 'GET', `/api/runs/${run.id}/marks`);
    return marksAnswerSchema.parse(told.body).events;
  }

  #started(): ServerProcess {
    const where = ['--port', String(this.port), '--data', this.#folder, '--allow-host', 'pool.test'];
    return new ServerProcess([...where, '--timezone', 'Europe/Lisbon'], this.#environment);
  }
}

/** Another deck, connected straight to the server. */
export class OtherDeck {
  readonly #screen: TestScreen;

  constructor({ url }: PoolProcess) {
    this.#screen = new TestScreen(url, 'deck');
  }

  /** @throws Error when the press does not count */
  async press(press: Press): Promise<void> {
    const hello = await this.#screen.hello();
    if (!hello.ok || !hello.live.run) throw new Error('nothing is on the wall');
    const { answeredAt } = syncAnswerSchema.parse(await this.#screen.ask('sync', { askedAt: 0 }));
    const told = await this.#screen.ask('command', this.#screen.command(press, hello.live.run, answeredAt));
    const answer: Answer = answerSchema.parse(told);
    if (!answer.ok) throw new Error(answer.message);
  }
}
