import { randomId } from '../../server/ids.ts';
import { openStore } from '../../server/store/store.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import { FarwallProcess } from '../fixtures/node-process.ts';
import { headersFor, ownAddress } from '../fixtures/paired.ts';
import { BareClient } from './bare-client.ts';
import { BenchScreen } from './bench-screen.ts';
import { connected, Hearing } from './hearing.ts';
import type { Crowd, PushServer } from './push-peer.ts';
import { storePractice } from './stored-practice.ts';
import { TWO_HOURS } from './workloads.ts';

/** What shows the event: the library of the pages, or the same as on the other side and nothing more. */
export type WallKind = 'socket.io-client' | 'bare';

/** A real server on a folder of its own, with a practice for ten lanes on the wall. */
export class FarwallPeer implements PushServer {
  readonly #process: FarwallProcess;
  readonly #url: string;
  readonly #walls: WallKind;
  /** The last event as a deck had it: the text of one websocket message. */
  lastEvent = '';
  /** The longest of them, bytes. */
  longestEvent = 0;

  private constructor(process: FarwallProcess, url: string, walls: WallKind) {
    this.#process = process;
    this.#url = url;
    this.#walls = walls;
  }

  /** @param folder an empty one */
  static async started(folder: string, walls: WallKind): Promise<FarwallPeer> {
    const opened = openStore(folder);
    if (!opened.ok) throw new Error(opened.message);
    const { id, version } = storePractice(opened.store, TWO_HOURS, Date.now());
    opened.store.close();
    const process = new FarwallProcess(['--port', '0', '--data', folder]);
    const url = await ownAddress(process);
    const peer = new FarwallPeer(process, url, walls);
    const headers = { ...headersFor(url), 'content-type': 'application/json' };
    const body = JSON.stringify({ practice: id, version, replace: false });
    const answer = await fetch(`${url}/api/runs`, { method: 'POST', headers, body });
    if (answer.ok) return peer;
    const why = await answer.text();
    await peer.end();
    throw new Error(`nothing could be put on the wall: ${why}`);
  }

  async crowd(clients: number): Promise<Crowd> {
    const hearing = new Hearing(clients);
    const wall = (address: string): Promise<Wall> =>
      this.#walls === 'bare' ? BareClient.wall(this.#url, hearing, address) : libraryWall(this.#url, hearing, address);
    const walls = await connected(clients, wall);
    const deck = new BenchScreen(this.#url);
    const { live } = await deck.hello('deck');
    if (!live.run) throw new Error('nothing is on the wall');
    deck.socket.io.engine.on('packet', ({ data }) => {
      if (typeof data === 'string' && data.startsWith('2["event"')) this.#sent(`4${data}`);
    });
    return new DeckAndWalls(deck, walls, hearing, live.run);
  }

  get url(): string {
    return this.#url;
  }

  async end(): Promise<void> {
    await this.#process.signal('SIGKILL');
  }

  #sent(event: string): void {
    this.lastEvent = event;
    this.longestEvent = Math.max(this.longestEvent, Buffer.byteLength(event));
  }
}

type Wall = Pick<BareClient, 'close'>;

async function libraryWall(url: string, hearing: Hearing, localAddress: string): Promise<Wall> {
  const wall = new BenchScreen(url, localAddress);
  wall.socket.on('event', () => hearing.byOne());
  wall.socket.on('disconnect', () => hearing.lost());
  await wall.hello('wall');
  return wall;
}

/** @returns the event that the press became @throws Error when it was refused */
function acceptedSeq(said: unknown): number {
  const answer = answerSchema.parse(said);
  if (!answer.ok) throw new Error(answer.message);
  return answer.seq;
}

/** One deck that holds the practice and lets it go on by turns, and the walls that are told. */
class DeckAndWalls implements Crowd {
  readonly #deck: BenchScreen;
  readonly #walls: readonly Wall[];
  readonly #hearing: Hearing;
  readonly #run: Run['id'];
  #seq: number;
  #state: Run['state'];

  constructor(deck: BenchScreen, walls: readonly Wall[], hearing: Hearing, { id, seq, state }: Run) {
    this.#deck = deck;
    this.#walls = walls;
    this.#hearing = hearing;
    this.#run = id;
    this.#seq = seq;
    this.#state = state;
  }

  /** @throws Error when the press is refused */
  async press(): Promise<number> {
    const kind = this.#kind();
    const heard = this.#hearing.byAll();
    const [pressed, pressedAt] = [performance.now(), Date.now()];
    const envelope = { id: randomId(), device: this.#deck.device, run: this.#run, basedOnSeq: this.#seq, pressedAt };
    const answered = this.#deck.ask('command', { ...envelope, kind, when: 'now' }).then(acceptedSeq);
    const [lastAt, seq] = await Promise.all([heard, answered]);
    this.#seq = seq;
    this.#state = kind === 'hold' ? 'held' : 'running';
    return lastAt - pressed;
  }

  close(): void {
    this.#deck.close();
    for (const wall of this.#walls) wall.close();
  }

  #kind(): 'start' | 'hold' | 'resume' {
    if (this.#state === 'ready') return 'start';
    return this.#state === 'held' ? 'resume' : 'hold';
  }
}
