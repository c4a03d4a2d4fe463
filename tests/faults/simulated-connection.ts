import { ASKED, type Asked } from '../../shared-types/wire/from-screen.ts';
import { SimulatedWay } from './simulated-link.ts';
import type { SimulatedNetwork } from './simulated-network.ts';
import type { LineEnd, SimulatedServer } from './simulated-server.ts';

/**
 * [socket.io] The server pings every 3 s and wants an answer within 4, and the page wants to be pinged: so soon, and no
 * sooner than 4 s, either side gives up a line on which nothing comes. Ms.
 */
export const NOTICED_WITHIN_MS = 7000;
const NOTICED_AFTER_MS = 4000;

/** How long a side takes to give up a line that has just gone silent, ms. */
export const silenceMs = (network: SimulatedNetwork): number =>
  NOTICED_AFTER_MS + network.upTo(NOTICED_WITHIN_MS - NOTICED_AFTER_MS);

/** Broadcasts that may come twice or late: what they say is numbered, or soon said again. */
const MAY_BE_LATE: readonly string[] = ['event', 'mark', 'screens'];

const askedOf = (event: string): Asked => {
  const asked = ASKED.find((each) => each === event);
  if (!asked) throw new Error(`the server hears no ${event}`);
  return asked;
};

type There =
  | { readonly kind: 'open' | 'bye' }
  | { readonly kind: 'ask'; readonly id: number; readonly event: string; readonly payload: string };
export type Back =
  | { readonly kind: 'opened' | 'refused' | 'gone' }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: string }
  | { readonly kind: 'told'; readonly event: string; readonly payload: string };

/**
 * One connection, like TCP with socket.io on it: within it nothing is lost and nothing overtakes; a cut takes all that
 * is on its way, and each side notices in its own time.
 */
export class SimulatedConnection {
  readonly #network: SimulatedNetwork;
  readonly #server: SimulatedServer;
  readonly #there: SimulatedWay<There>;
  readonly #back: SimulatedWay<Back>;
  readonly #unhook: () => void;
  readonly #lost: () => void;
  #end: LineEnd | null = null;
  /** The page's side is closed. */
  #isClosed = false;
  /** The server's side is closed. */
  #isEnded = false;
  #stalls = 0;

  /** @param lost called once the page's side is to notice that the line is dead */
  constructor(network: SimulatedNetwork, server: SimulatedServer, heard: (message: Back) => void, lost: () => void) {
    this.#network = network;
    this.#server = server;
    this.#lost = lost;
    const fate = (): number[] => [network.delayMs()];
    this.#there = new SimulatedWay(network.time, fate, true);
    this.#back = new SimulatedWay(network.time, fate, true);
    this.#there.onArrival((message) => this.#atServer(message));
    this.#back.onArrival(heard);
    this.#unhook = network.hook({ cut: () => this.cut(), stall: () => this.#stall(), flow: () => this.#flow() });
    if (network.state === 'cut') this.#dead();
    else this.#there.send({ kind: 'open' });
  }

  send(message: There): void {
    const { mischief, random, time } = this.#network;
    if (random() < mischief.againShare) time.later(this.#network.upTo(mischief.byMs), () => this.#again(message));
    if (random() < mischief.lateShare) time.later(this.#network.upTo(mischief.byMs), () => this.#atServer(message));
    else this.#there.send(message);
  }

  /** Dead from now on; both sides have yet to notice. */
  cut(): void {
    this.#dead();
    const end = this.#end;
    this.#network.time.later(this.#network.upTo(NOTICED_WITHIN_MS), () => end?.end('ping timeout'));
    this.#lost();
  }

  /** The page's side is closed: what it had sent still arrives if it can, then its good-bye. */
  close(): void {
    this.#back.cut();
    this.#isClosed = true;
    if (this.#isEnded) this.#unhook();
    else this.#there.send({ kind: 'bye' });
  }

  #dead(): void {
    this.#there.cut();
    this.#back.cut();
    this.#unhook();
  }

  #stall(): void {
    this.#there.stall();
    this.#back.stall();
    this.#stalls += 1;
    const stall = this.#stalls;
    const ifStill = (then: () => void) => () => {
      if (this.#stalls === stall && this.#network.state === 'stalled') then();
    };
    const endAtServer = ifStill(() => this.#endAtServer('ping timeout'));
    this.#network.time.later(silenceMs(this.#network), endAtServer);
    this.#network.time.later(silenceMs(this.#network), ifStill(this.#lost));
  }

  #flow(): void {
    this.#stalls += 1;
    this.#there.flow();
    this.#back.flow();
  }

  #atServer(message: There): void {
    switch (message.kind) {
      case 'open':
        this.#end = this.#server.accept({
          tell: (event, payload) => this.#tell({ kind: 'told', event, payload }),
          cutOff: () => this.#serverGone(),
        });
        this.#back.send({ kind: this.#end ? 'opened' : 'refused' });
        break;
      case 'bye':
        this.#endAtServer('transport close');
        break;
      case 'ask': {
        const answer = this.#end?.ask(askedOf(message.event), JSON.parse(message.payload));
        if (answer !== undefined) this.#back.send({ kind: 'answer', id: message.id, answer });
      }
    }
  }

  /** A copy of what was sent; nobody hears the answer. */
  #again(message: There): void {
    if (message.kind === 'ask') this.#end?.ask(askedOf(message.event), JSON.parse(message.payload));
  }

  #tell(message: Extract<Back, { kind: 'told' }>): void {
    const { mischief, random, time } = this.#network;
    const arriveLate = (): void => {
      time.later(this.#network.upTo(mischief.byMs), () => this.#back.send(message));
    };
    const mayBeLate = MAY_BE_LATE.includes(message.event);
    if (random() < mischief.againShare) mayBeLate ? arriveLate() : this.#back.send(message);
    if (mayBeLate && random() < mischief.lateShare) arriveLate();
    else this.#back.send(message);
  }

  /** The server's side is closed: the page hears of it if it can. */
  #endAtServer(reason: string): void {
    this.#end?.end(reason);
    this.#end = null;
    this.#isEnded = true;
    this.#there.cut();
    this.#back.send({ kind: 'gone' });
    if (this.#isClosed) this.#unhook();
  }

  /** Killed; when its machine has lost power nobody says so. */
  #serverGone(): void {
    this.#end = null;
    if (this.#network.random() < 0.5) this.cut();
    else this.#endAtServer('killed');
  }
}
