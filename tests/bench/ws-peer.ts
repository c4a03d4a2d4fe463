import { fileURLToPath } from 'node:url';
import { NodeProcess } from '../fixtures/node-process.ts';
import { BareClient } from './bare-client.ts';
import { connected, Hearing } from './hearing.ts';
import type { Crowd, PushServer } from './push-peer.ts';

const SCRIPT = fileURLToPath(new URL('./ws-peer-server.ts', import.meta.url));

/** A server of plain websockets: what one client sends, all get. */
export class WsPeer implements PushServer {
  readonly #process: NodeProcess;
  readonly #url: string;
  readonly #message: () => string;

  private constructor(process: NodeProcess, url: string, message: () => string) {
    this.#process = process;
    this.#url = url;
    this.#message = message;
  }

  /** @param database where it keeps each message before it sends it on; none: it keeps nothing */
  static async started(message: () => string, database?: string): Promise<WsPeer> {
    const process = new NodeProcess(SCRIPT, database === undefined ? [] : [database]);
    const url = await process.printed(/ws:\S+(?=\n)/);
    return new WsPeer(process, url, message);
  }

  async crowd(clients: number): Promise<Crowd> {
    const hearing = new Hearing(clients);
    const listeners = await connected(clients, () => BareClient.listening(this.#url, hearing));
    // It gets what it sends, like a deck; it is none of those waited for.
    const presser = await BareClient.listening(this.#url, new Hearing(1));
    return {
      press: async () => {
        const heard = hearing.byAll();
        const message = this.#message();
        const pressed = performance.now();
        presser.send(message);
        return (await heard) - pressed;
      },
      close: () => {
        for (const client of [presser, ...listeners]) client.close();
      },
    };
  }

  async end(): Promise<void> {
    await this.#process.signal('SIGKILL');
  }
}
