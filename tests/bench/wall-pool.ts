import { randomId } from '../../server/ids.ts';
import { openStore } from '../../server/store/store.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';
import { FarwallProcess } from '../fixtures/node-process.ts';
import { headersFor, ownAddress } from '../fixtures/paired.ts';
import { BenchScreen } from './bench-screen.ts';
import { withFolder } from './own-folder.ts';
import { storePractice } from './stored-practice.ts';
import { TWO_HOURS } from './workloads.ts';

/** Ten lanes of six; first only countdowns move, then for more than a minute in each rep the markers of all lanes. */
const PRACTICE = `# A wall to measure

Main set: race pace
2:00 rest
30 x 100 free @ 2:30 at 200 pace
`;

/** A real server, a practice for its wall and a deck to press on. */
export class WallPool {
  readonly url: string;
  readonly #practice: StoredPractice;
  readonly #deck: BenchScreen;

  constructor(url: string, practice: StoredPractice) {
    this.url = url;
    this.#practice = practice;
    this.#deck = new BenchScreen(url);
  }

  /** Puts the practice on the wall from its beginning and starts it: all lanes rest for two minutes. */
  async startAnew(): Promise<void> {
    const { id, version } = this.#practice;
    const headers = { ...headersFor(this.url), 'content-type': 'application/json' };
    const body = JSON.stringify({ practice: id, version, replace: true });
    const answer = await fetch(`${this.url}/api/runs`, { method: 'POST', headers, body });
    if (!answer.ok) throw new Error(`nothing could be put on the wall: ${await answer.text()}`);
    await this.press('start');
  }

  /** Starts it and goes on until all lanes swim this rep, the first is 1. */
  async startAt(rep: number): Promise<void> {
    await this.startAnew();
    for (let reached = 0; reached < rep; reached += 1) await this.press('next');
  }

  /** @throws Error when the press is refused */
  async press(kind: 'start' | 'next'): Promise<void> {
    const { live } = await this.#deck.hello('deck');
    const { id: run, seq: basedOnSeq } = live.run ?? {};
    const envelope = { id: randomId(), device: this.#deck.device, run, basedOnSeq, pressedAt: Date.now() };
    const answer = answerSchema.parse(await this.#deck.ask('command', { ...envelope, kind, when: 'now' }));
    if (!answer.ok) throw new Error(answer.message);
  }

  close(): void {
    this.#deck.close();
  }
}

/** Gives a piece of work a pool with a server of its own, ended when that is over. */
export function withWallPool<T>(work: (pool: WallPool) => Promise<T>): Promise<T> {
  return withFolder(async (folder) => {
    const opened = openStore(folder);
    if (!opened.ok) throw new Error(opened.message);
    const practice = storePractice(opened.store, TWO_HOURS, Date.now(), PRACTICE);
    opened.store.close();
    const server = new FarwallProcess(['--port', '0', '--data', folder]);
    try {
      const pool = new WallPool(await ownAddress(server), practice);
      try {
        return await work(pool);
      } finally {
        pool.close();
      }
    } finally {
      await server.signal('SIGKILL');
    }
  });
}
