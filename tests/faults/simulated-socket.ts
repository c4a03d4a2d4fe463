import type { LinkParts } from '../../client/common/link-parts.ts';
import { type Back, NOTICED_WITHIN_MS, SimulatedConnection } from './simulated-connection.ts';
import type { SimulatedDevice } from './simulated-device.ts';
import type { SimulatedNetwork } from './simulated-network.ts';
import type { SimulatedServer } from './simulated-server.ts';

type PageSocket = LinkParts['socket'];

/** As in link-parts.ts, ms. */
const CONNECT_WITHIN_MS = 4000;
const RETRY_MS = { first: 300, most: 2000 };

interface Pending {
  readonly give: (answer: unknown) => void;
  readonly fail: () => void;
}

/** What a page has of socket.io, over a simulated network. */
export class SimulatedSocket implements PageSocket {
  readonly #device: Pick<SimulatedDevice, 'later' | 'whenAwake'>;
  readonly #network: SimulatedNetwork;
  readonly #server: SimulatedServer;
  readonly #heard = new Map<string, (payload: unknown) => void>();
  readonly #pending = new Map<number, Pending>();
  #onOpen = (): void => {};
  #onLost = (_final: boolean): void => {};
  #wanted = false;
  #isOpen = false;
  #connection: SimulatedConnection | null = null;
  #attempts = 0;
  #lastId = 0;
  #callOff: () => void = () => {};

  /** @param device whose timers these are; those of a page end with it */
  constructor(
    device: Pick<SimulatedDevice, 'later' | 'whenAwake'>,
    network: SimulatedNetwork,
    server: SimulatedServer,
  ) {
    this.#device = device;
    this.#network = network;
    this.#server = server;
  }

  onOpen(heard: () => void): void {
    this.#onOpen = heard;
  }

  onLost(heard: (final: boolean) => void): void {
    this.#onLost = heard;
  }

  on(event: string, heard: (payload: unknown) => void): void {
    this.#heard.set(event, heard);
  }

  open(): void {
    if (this.#wanted) return;
    this.#wanted = true;
    this.#attempts = 0;
    this.#connect();
  }

  close(): void {
    this.#wanted = false;
    this.#callOff();
    const wasOpen = this.#isOpen;
    this.#leave();
    if (wasOpen) this.#over();
  }

  ask(event: string, payload: unknown, withinMs: number): Promise<unknown> {
    const connection = this.#connection;
    if (!connection || !this.#isOpen) return Promise.reject(new Error('not connected'));
    this.#lastId += 1;
    const id = this.#lastId;
    return new Promise((give, reject) => {
      const fail = (): void => {
        callOff();
        this.#pending.delete(id);
        reject(new Error('no answer'));
      };
      const callOff = this.#device.later(withinMs, fail);
      this.#pending.set(id, {
        fail,
        give: (answer) => {
          callOff();
          this.#pending.delete(id);
          give(answer);
        },
      });
      connection.send({ kind: 'ask', id, event, payload: JSON.stringify(payload) });
    });
  }

  /** The line dies, as when the device has slept for too long. */
  breaks(): void {
    this.#connection?.cut();
  }

  /** The page goes away without a word to its own code. */
  abandon(): void {
    this.#wanted = false;
    this.#leave();
  }

  #connect(): void {
    const connection: SimulatedConnection = new SimulatedConnection(
      this.#network,
      this.#server,
      (message) => this.#device.whenAwake(() => this.#hear(connection, message)),
      () => this.#noticeLater(connection),
    );
    this.#connection = connection;
    this.#callOff = this.#device.later(CONNECT_WITHIN_MS, () => this.#failed(connection));
  }

  #hear(connection: SimulatedConnection, message: Back): void {
    if (connection !== this.#connection) return;
    switch (message.kind) {
      case 'opened':
        this.#callOff();
        this.#isOpen = true;
        this.#attempts = 0;
        this.#onOpen();
        break;
      case 'refused':
      case 'gone':
        this.#failed(connection);
        break;
      case 'answer':
        this.#pending.get(message.id)?.give(JSON.parse(message.answer));
        break;
      case 'told':
        this.#heard.get(message.event)?.(JSON.parse(message.payload));
    }
  }

  #noticeLater(connection: SimulatedConnection): void {
    if (!this.#isOpen) return;
    this.#device.later(this.#network.upTo(NOTICED_WITHIN_MS), () => this.#failed(connection));
  }

  /** The connection is lost, or there was none to be had: another is tried for. */
  #failed(connection: SimulatedConnection): void {
    if (connection !== this.#connection) return;
    this.#callOff();
    this.#leave();
    this.#over();
    if (!this.#wanted || this.#connection) return;
    const retryMs = Math.min(RETRY_MS.most, RETRY_MS.first * 2 ** this.#attempts) * (0.5 + this.#network.random());
    this.#attempts += 1;
    this.#callOff = this.#device.later(retryMs, () => this.#connect());
  }

  #leave(): void {
    this.#connection?.close();
    this.#connection = null;
    this.#isOpen = false;
  }

  /** As socket.io has it: first it says that it is over, then the questions fail. */
  #over(): void {
    this.#onLost(false);
    for (const { fail } of [...this.#pending.values()]) fail();
  }
}
