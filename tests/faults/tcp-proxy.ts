import { once } from 'node:events';
import { connect, createServer, type Server, type Socket } from 'node:net';
import { onTestFinished } from 'vitest';
import type { WayTraits } from './simulated-link.ts';

/**
 * How one way of a TCP connection treats what is sent. Nothing is lost, doubled or overtaken on TCP: a lost segment is
 * sent again, and whatever follows it waits.
 */
export type TcpWayTraits = Pick<WayTraits, 'delayMs' | 'jitterMs' | 'lossShare'>;

/** The least time after which a lost segment is sent again, ms: Linux' TCP_RTO_MIN (RFC 6298 §2.4 would have a second). */
const SENT_AGAIN_AFTER_MS = 200;

/** How long to hold the next chunk, ms; asked once for every chunk, moves the way by hand or by chance. */
export type HoldOf = () => number;

/** What one way holds chunks for, by chance. @param random numbers from 0 up to 1, the same again for the same seed */
export function drawnHolds({ delayMs, jitterMs, lossShare }: TcpWayTraits, random: () => number): HoldOf {
  return () => {
    const lostMs = random() < lossShare ? SENT_AGAIN_AFTER_MS : 0;
    return delayMs + jitterMs * random() + lostMs;
  };
}

interface Held {
  /** Null: the sender has said that there is no more. */
  readonly bytes: Buffer | null;
  readonly dueAt: number;
}

/** One way of one connection: bytes go on in their order, each chunk held for its time. */
class ProxiedWay {
  readonly #to: Socket;
  readonly #holdOf: HoldOf;
  readonly #isFrozen: () => boolean;
  #held: Held[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(from: Socket, to: Socket, holdOf: HoldOf, isFrozen: () => boolean) {
    this.#to = to;
    this.#holdOf = holdOf;
    this.#isFrozen = isFrozen;
    from.on('data', (bytes) => this.#take(bytes));
    from.on('end', () => this.#take(null));
    // Not when `from` closes: what it said last is still to be passed on.
    to.on('close', () => this.#letGo());
  }

  /** Passes on what is due. */
  pass(): void {
    clearTimeout(this.#timer);
    while (!this.#isFrozen()) {
      const [next] = this.#held;
      if (!next) return;
      const waitMs = next.dueAt - performance.now();
      if (waitMs > 0) {
        this.#timer = setTimeout(() => this.pass(), Math.ceil(waitMs));
        return;
      }
      this.#held.shift();
      if (next.bytes) this.#to.write(next.bytes);
      else this.#to.end();
    }
  }

  #take(bytes: Buffer | null): void {
    const last = this.#held[this.#held.length - 1]?.dueAt ?? 0;
    const dueAt = Math.max(last, performance.now() + this.#holdOf());
    this.#held.push({ bytes, dueAt });
    if (this.#held.length === 1) this.pass();
  }

  #letGo(): void {
    clearTimeout(this.#timer);
    this.#held = [];
  }
}

/** A caller's connection to the proxy with the proxy's to the server. */
class ProxiedConnection {
  readonly #sockets: readonly [Socket, Socket];
  readonly #ways: readonly [ProxiedWay, ProxiedWay];
  /** What a caller began with: the line that says what an HTTP request is for. */
  #firstLine = '';

  constructor(caller: Socket, server: Socket, holds: Holds, isFrozen: (firstLine: string) => boolean) {
    this.#sockets = [caller, server];
    caller.once('data', (bytes: Buffer) => {
      this.#firstLine = bytes.toString('latin1').split('\r\n', 1)[0] ?? '';
    });
    const frozen = (): boolean => isFrozen(this.#firstLine);
    this.#ways = [
      new ProxiedWay(caller, server, holds.there, frozen),
      new ProxiedWay(server, caller, holds.back, frozen),
    ];
    for (const socket of this.#sockets) socket.on('error', () => this.destroy());
  }

  get firstLine(): string {
    return this.#firstLine;
  }

  pass(): void {
    for (const way of this.#ways) way.pass();
  }

  sayBack(bytes: Buffer): void {
    this.#sockets[0].write(bytes);
  }

  destroy(): void {
    for (const socket of this.#sockets) socket.destroy();
  }

  onGone(gone: () => void): void {
    let open = this.#sockets.length;
    for (const socket of this.#sockets) {
      socket.on('close', () => {
        open -= 1;
        if (open === 0) gone();
      });
    }
  }
}

/** What each way holds chunks for; shared by all connections. */
export interface Holds {
  readonly there: HoldOf;
  readonly back: HoldOf;
}

const AT_ONCE: Holds = { there: () => 0, back: () => 0 };
const NOTHING = (): boolean => false;
const EVERYTHING = (): boolean => true;

/** A line to a server on this machine that can be slow, go dead or break. Gone when the running test is over. */
export class TcpProxy {
  readonly #listener: Server;
  readonly #connections = new Set<ProxiedConnection>();
  #isCut = false;
  #isFrozen: (firstLine: string) => boolean = NOTHING;

  private constructor(port: number, holds: Holds) {
    this.#listener = createServer({ allowHalfOpen: true, noDelay: true }, (caller) => {
      // The port stays ours while the line is cut, so that it can be mended: who calls is hung up on.
      if (this.#isCut) return void caller.resetAndDestroy();
      const server = connect({ port, host: '127.0.0.1', allowHalfOpen: true, noDelay: true });
      const connection = new ProxiedConnection(caller, server, holds, (firstLine) => this.#isFrozen(firstLine));
      this.#connections.add(connection);
      connection.onGone(() => this.#connections.delete(connection));
    });
  }

  /** A line to this port, on a free port of its own. */
  static async to(port: number, holds: Holds = AT_ONCE): Promise<TcpProxy> {
    const proxy = new TcpProxy(port, holds);
    proxy.#listener.listen(0, '127.0.0.1');
    await once(proxy.#listener, 'listening');
    onTestFinished(() => proxy.#close());
    return proxy;
  }

  get port(): number {
    const address = this.#listener.address();
    return typeof address === 'object' && address ? address.port : 0;
  }

  /** Connections are broken off with all that is on its way; new ones are refused. */
  cut(): void {
    this.#isCut = true;
    for (const connection of this.#connections) connection.destroy();
  }

  /**
   * The line goes dead without anybody being told: connections stay, new ones are accepted, and nothing passes.
   * @param which by the first line a connection began with, e.g. `GET /wall HTTP/1.1`; all unless said
   */
  freeze(which: (firstLine: string) => boolean = EVERYTHING): void {
    this.#isFrozen = which;
  }

  /** All is well again; what a frozen line has held goes on in its order. */
  mend(): void {
    this.#isCut = false;
    this.#isFrozen = NOTHING;
    for (const connection of this.#connections) connection.pass();
  }

  /** Tells callers something the server never said, between two of its chunks. @param which as for `freeze` */
  sayBack(bytes: Buffer, which: (firstLine: string) => boolean = EVERYTHING): void {
    for (const connection of this.#connections) if (which(connection.firstLine)) connection.sayBack(bytes);
  }

  #close(): void {
    this.cut();
    this.#listener.close();
  }
}
