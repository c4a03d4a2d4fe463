import { io, type Socket } from 'socket.io-client';
import { randomId } from '../../server/ids.ts';
import { type DeviceId, deviceIdSchema } from '../../shared-types/brand.ts';
import { type HelloAnswer, helloAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL, type Role } from '../../shared-types/wire/protocol.ts';
import { headersFor } from '../fixtures/paired.ts';

const ANSWERED_WITHIN_MS = 60_000;

/** A page's connection to Farwall, by the library that the pages use. */
export class BenchScreen {
  readonly device: DeviceId = deviceIdSchema.parse(randomId());
  readonly socket: Socket;

  /** @param localAddress of this machine, as if it were another device */
  constructor(url: string, localAddress = '127.0.0.1') {
    const options = { transports: ['websocket'], forceNew: true, reconnection: false, extraHeaders: headersFor(url) };
    this.socket = io(url, { ...options, ...{ localAddress } });
  }

  ask(event: string, payload: unknown): Promise<unknown> {
    return this.socket.timeout(ANSWERED_WITHIN_MS).emitWithAck(event, payload);
  }

  /** @throws Error when the server refuses */
  async hello(role: Role): Promise<Extract<HelloAnswer, { ok: true }>> {
    const said = await this.ask('hello', { protocols: [PROTOCOL], role, device: this.device });
    const answer = helloAnswerSchema.parse(said);
    if (!answer.ok) throw new Error(answer.message);
    return answer;
  }

  close(): void {
    this.socket.disconnect();
  }
}
