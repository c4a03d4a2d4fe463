/** Waits until each of some clients has had one message. */
export class Hearing {
  readonly #clients: number;
  #missing = 0;
  #heard: (at: number) => void = () => {};
  #failed: (error: Error) => void = () => {};

  constructor(clients: number) {
    this.#clients = clients;
  }

  /** @returns the instant at which the last had it, ms of `performance.now()`; rejects when a client is lost */
  byAll(): Promise<number> {
    this.#missing = this.#clients;
    return new Promise((heard, failed) => {
      this.#heard = heard;
      this.#failed = failed;
    });
  }

  /** A client has a message, parsed. */
  byOne(): void {
    this.#missing -= 1;
    if (this.#missing === 0) this.#heard(performance.now());
  }

  lost(): void {
    this.#failed(new Error('a client lost its connection'));
  }
}

/** So many connect at the same time. */
const AT_ONCE = 50;

/** Clients on one device: a server takes so many pages of an address, and no more. */
const ON_A_DEVICE = 30;

/** Connects so many clients. @param connect from an address of this machine: many devices have as many */
export async function connected<T>(clients: number, connect: (localAddress: string) => Promise<T>): Promise<T[]> {
  const made: T[] = [];
  while (made.length < clients) {
    const next = Array.from({ length: Math.min(AT_ONCE, clients - made.length) }, (_, nth) =>
      connect(`127.0.0.${2 + Math.floor((made.length + nth) / ON_A_DEVICE)}`),
    );
    made.push(...(await Promise.all(next)));
  }
  return made;
}
