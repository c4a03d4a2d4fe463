import { once } from 'node:events';
import { type ClientOptions, WebSocket } from 'ws';
import { randomId } from '../../server/ids.ts';
import { helloAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';
import { headersFor } from '../fixtures/paired.ts';
import type { Hearing } from './hearing.ts';

/** What text messages begin with: the packet types of Engine.IO 4, those of messages with Socket.IO's (version 5). */
const PACKETS = { open: '0', ping: '2', pong: '3', connect: '40', event: '42', helloAsked: '420', helloAnswer: '430' };

/**
 * A client without a library above the websocket. It parses events and does nothing else with them, so that one costs
 * the same whichever server it is connected to.
 */
export class BareClient {
  readonly #socket: WebSocket;
  readonly #hearing: Hearing;
  #greeted: () => void = () => {};
  #refused: (error: unknown) => void = () => {};

  constructor(url: string, hearing: Hearing, options: ClientOptions = {}) {
    this.#hearing = hearing;
    this.#socket = new WebSocket(url, { perMessageDeflate: false, ...options });
    this.#socket.on('message', (data) => this.#read(String(data)));
    this.#socket.on('close', () => hearing.lost());
  }

  /** Connected to a server of plain websockets. */
  static async listening(url: string, hearing: Hearing): Promise<BareClient> {
    const client = new BareClient(url, hearing);
    await once(client.#socket, 'open');
    return client;
  }

  /** Connected to Farwall, as a wall that has said hello. */
  static async wall(url: string, hearing: Hearing, localAddress: string): Promise<BareClient> {
    const address = `${url.replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`;
    const client = new BareClient(address, hearing, { headers: headersFor(url), localAddress });
    await new Promise<void>((greeted, refused) => {
      client.#greeted = greeted;
      client.#refused = refused;
      client.#socket.on('error', refused);
    });
    return client;
  }

  send(text: string): void {
    this.#socket.send(text);
  }

  close(): void {
    this.#socket.terminate();
  }

  #read(text: string): void {
    if (text.startsWith(PACKETS.event)) {
      JSON.parse(text.slice(PACKETS.event.length));
      this.#hearing.byOne();
    } else if (text === PACKETS.ping) this.#socket.send(PACKETS.pong);
    else if (text.startsWith(PACKETS.open)) this.#socket.send(PACKETS.connect);
    else if (text.startsWith(PACKETS.connect)) this.#sayHello();
    else if (text.startsWith(PACKETS.helloAnswer)) this.#readHello(JSON.parse(text.slice(PACKETS.helloAnswer.length)));
  }

  #sayHello(): void {
    const hello = { protocols: [PROTOCOL], role: 'wall', device: randomId() };
    this.#socket.send(`${PACKETS.helloAsked}${JSON.stringify(['hello', hello])}`);
  }

  #readHello([said]: readonly unknown[]): void {
    const answer = helloAnswerSchema.safeParse(said);
    if (answer.data?.ok) this.#greeted();
    else this.#refused(new Error(`hello was answered ${JSON.stringify(said)}`));
  }
}
