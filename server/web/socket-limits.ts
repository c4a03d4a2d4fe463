import type { Server as HttpServer } from 'node:http';
import type { Socket as NetSocket } from 'node:net';
import { RateLimiterMemory } from 'rate-limiter-flexible';
import type { Limits } from './limits.ts';
import { waitMs } from './request-limits.ts';

/** How many there are of each, e.g. by address. */
export class Counts {
  readonly #counts = new Map<string, number>();

  of(key: string): number {
    return this.#counts.get(key) ?? 0;
  }

  add(key: string): void {
    this.#counts.set(key, this.of(key) + 1);
  }

  remove(key: string): void {
    const left = this.of(key) - 1;
    if (left > 0) this.#counts.set(key, left);
    else this.#counts.delete(key);
  }
}

/** Drops connections of an address that has enough of them, before anything is read from them. */
export function limitConnections(server: HttpServer, { connectionsOfAddress }: Limits): void {
  const open = new Counts();
  server.on('connection', (connection: NetSocket) => {
    const address = connection.remoteAddress ?? '';
    if (open.of(address) >= connectionsOfAddress) {
      connection.destroy();
      return;
    }
    open.add(address);
    connection.once('close', () => open.remove(address));
  });
}

/** What reads a socket's messages from the network. */
export interface Reading {
  pause(): void;
  resume(): void;
}

/** What all sockets share. */
export class MessageLimits {
  readonly limits: Limits;
  readonly #sockets: RateLimiterMemory;
  readonly #addresses: RateLimiterMemory;

  constructor(limits: Limits) {
    this.limits = limits;
    this.#sockets = new RateLimiterMemory({ points: limits.messagesOfSocket, duration: 1 });
    this.#addresses = new RateLimiterMemory({ points: limits.messagesOfAddress, duration: 1 });
  }

  /** How long the next message of this socket has to wait; 0: it may be heard now. Ms. */
  async waitMs(socket: string, address: string): Promise<number> {
    return (await waitMs(this.#sockets, socket)) || waitMs(this.#addresses, address);
  }
}

interface QueueParts {
  readonly limits: MessageLimits;
  readonly socket: string;
  readonly address: string;
  readonly reading: Reading;
  /** The sender does not heed that it is slowed down. */
  readonly cutOff: () => void;
}

/**
 * The messages of one socket, heard in order and no faster than they may come. Nothing is refused for that: while one
 * waits nothing more is read, so that the network holds the sender back.
 */
export class MessageQueue {
  readonly #parts: QueueParts;
  #waiting: (() => void)[] = [];
  #isWorking = false;
  #isPaused = false;
  #callOff = (): void => {};

  constructor(parts: QueueParts) {
    this.#parts = parts;
  }

  add(hear: () => void): void {
    this.#waiting.push(hear);
    if (this.#waiting.length > this.#parts.limits.limits.messagesWaiting) this.#parts.cutOff();
    else if (!this.#isWorking) void this.#work();
  }

  /** Forgets what waits. */
  end(): void {
    this.#waiting = [];
    this.#callOff();
  }

  async #work(): Promise<void> {
    const { limits, socket, address, reading } = this.#parts;
    this.#isWorking = true;
    while (this.#waiting.length > 0) {
      const ms = await limits.waitMs(socket, address);
      if (ms > 0) {
        this.#isPaused = true;
        reading.pause();
        await this.#after(ms);
      } else this.#waiting.shift()?.();
    }
    this.#isWorking = false;
    if (this.#isPaused) reading.resume();
    this.#isPaused = false;
  }

  #after(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.#callOff = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }
}
