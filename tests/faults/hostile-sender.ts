import { once } from 'node:events';
import { request } from 'node:http';
import { io, type Socket } from 'socket.io-client';
import { WebSocket } from 'ws';
import { ROUTES } from '../../shared-types/wire/access.ts';
import { ASKED } from '../../shared-types/wire/from-screen.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { hostileValue, hostileWord, mutated, oneOf, type Random } from '../fixtures/hostile-values.ts';
import { BODIES_SENT, MESSAGES_SENT } from '../fixtures/well-formed.ts';

/** So long an answer may take, with everything else that is asked at the same time; ms. */
const ANSWERED_WITHIN_MS = 20_000;

/** Ending its own pairing or making backups would only take the sender's work away. */
const LEFT_OUT = new Set(['DELETE /api/access', 'POST /api/backup', 'GET /assets/*']);
const ROUTES_SENT = Object.keys(ROUTES).filter((route) => !LEFT_OUT.has(route));

/** What came back, by kind; each should be `answered` in some way. */
export type Tally = Record<'refused' | 'accepted' | 'closed' | 'unanswered', number>;

/** Frames that are no messages of ours: of Engine.IO, of Socket.IO, of neither. */
const RAW: readonly ((random: Random) => { data: string | Buffer; binary?: boolean })[] = [
  () => ({ data: Buffer.from([0x34, 0x32, 0xff, 0xfe, 0xc3, 0x28]), binary: false }),
  () => ({ data: Buffer.alloc(5000, 0x81), binary: true }),
  () => ({ data: '42["command",{"kind":' }),
  () => ({ data: `42${'['.repeat(30_000)}` }),
  () => ({ data: `42["sync",${'['.repeat(30_000)}${']'.repeat(30_000)}]` }),
  () => ({ data: '451-["command",{"_placeholder":true,"num":0}]' }),
  () => ({ data: '4599999999-["command",{"_placeholder":true,"num":0}]' }),
  () => ({ data: '42["__proto__",{}]' }),
  () => ({ data: '42["disconnect"]' }),
  () => ({ data: '42["constructor","x"]' }),
  () => ({ data: '420{"not":"an array"}' }),
  () => ({ data: '4299999999999999999999["sync",{}]' }),
  () => ({ data: '40/elsewhere,{"token":1}' }),
  () => ({ data: '43-1[]' }),
  () => ({ data: '9nonsense' }),
  () => ({ data: '' }),
  (random) => ({ data: JSON.stringify(hostileValue(random)).slice(0, 60_000) }),
  (random) => ({ data: `42${JSON.stringify([hostileValue(random), hostileValue(random)]).slice(0, 60_000)}` }),
  () => ({ data: `42["sync",{"askedAt":0,"more":"${'x'.repeat(70_000)}"}]` }),
];

interface Sender {
  readonly url: string;
  /** Of this machine. */
  readonly localAddress: string;
  readonly cookie: string;
  readonly random: Random;
}

/** The code of a failure, or null where it has another shape. */
function failureOf(text: string): string | null {
  try {
    return failureSchema.parse(JSON.parse(text)).code;
  } catch {
    return null;
  }
}

/** Sends what no page of ours would, from one address, one after the other. */
export class HostileSender {
  readonly tally: Tally = { refused: 0, accepted: 0, closed: 0, unanswered: 0 };
  /** What it should not have been answered with. */
  readonly wrong: string[] = [];
  readonly #sender: Sender;
  #socket: Socket | null = null;

  constructor(sender: Sender) {
    this.#sender = sender;
  }

  async send(times: number): Promise<void> {
    for (let sent = 0; sent < times; sent += 1) {
      const kind = this.#sender.random();
      if (kind < 0.55) await this.#message();
      else if (kind < 0.85) await this.#request();
      else await this.#raw();
    }
    this.#socket?.disconnect();
  }

  get #headers(): Record<string, string> {
    const { url, cookie } = this.#sender;
    return { origin: new URL(url).origin, cookie };
  }

  #take(told: unknown): void {
    const failed = failureSchema.safeParse(told);
    this.tally[failed.success ? 'refused' : 'accepted'] += 1;
    if (failed.data?.code === 'server-error') this.wrong.push(failed.data.message);
  }

  async #message(): Promise<void> {
    const { random } = this.#sender;
    const asked = oneOf(ASKED, random);
    const said = mutated(oneOf(MESSAGES_SENT[asked], random), random);
    const socket = await this.#connected();
    try {
      this.#take(await socket.timeout(ANSWERED_WITHIN_MS).emitWithAck(asked, said));
    } catch {
      this.tally[socket.connected ? 'unanswered' : 'closed'] += 1;
    }
  }

  async #connected(): Promise<Socket> {
    if (this.#socket?.connected) return this.#socket;
    const { url, localAddress } = this.#sender;
    const options = { transports: ['websocket'], forceNew: true, reconnection: false, extraHeaders: this.#headers };
    const socket = io(url, { ...options, ...{ localAddress } });
    await new Promise<void>((resolve, reject) => {
      socket.on('connect', resolve);
      socket.on('connect_error', reject);
    });
    this.#socket = socket;
    return socket;
  }

  #request(): Promise<void> {
    const { url, localAddress, random } = this.#sender;
    const route = oneOf(ROUTES_SENT, random);
    const [method = 'GET', pattern = '/'] = route.split(' ');
    const path = pattern.replace(/:\w+|\*/g, () => (random() < 0.5 ? 'ab'.repeat(16) : hostileWord(random)));
    const query = random() < 0.3 ? `?${hostileWord(random)}=${hostileWord(random)}&limit=${hostileWord(random)}` : '';
    const body = method === 'GET' ? '' : this.#body(route);
    const headers = { ...this.#headers, ...(body === '' ? {} : { 'content-type': 'application/json' }) };
    return new Promise((resolve) => {
      const asked = request(new URL(path + query, url), { method, headers, localAddress }, (answer) => {
        const chunks: Buffer[] = [];
        answer.on('data', (chunk: Buffer) => chunks.push(chunk));
        answer.on('end', () => {
          this.#answered(`${method} ${path}`, answer.statusCode ?? 0, Buffer.concat(chunks).toString());
          resolve();
        });
      });
      asked.setTimeout(ANSWERED_WITHIN_MS, () => asked.destroy(new Error('no answer')));
      asked.on('error', ({ message }) => {
        this.tally[message === 'no answer' ? 'unanswered' : 'closed'] += 1;
        resolve();
      });
      asked.end(body);
    });
  }

  #body(route: string): string {
    const { random } = this.#sender;
    const json = JSON.stringify(mutated(BODIES_SENT[route] ?? {}, random)) ?? '';
    return random() < 0.1 ? json.slice(0, Math.floor(random() * json.length)) : json;
  }

  #answered(asked: string, status: number, text: string): void {
    const isFailure = status >= 400;
    this.tally[isFailure ? 'refused' : 'accepted'] += 1;
    const shape = isFailure ? failureOf(text) : null;
    if (isFailure && (shape === null || shape === 'server-error')) {
      this.wrong.push(`${asked.slice(0, 80)}: ${status} ${text.slice(0, 120)}`);
    }
  }

  /** A frame on a websocket of its own; that it is closed is the answer, or that the socket still hears afterwards. */
  async #raw(): Promise<void> {
    const { url, localAddress, random } = this.#sender;
    const address = `${url.replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`;
    const socket = new WebSocket(address, { headers: this.#headers, localAddress, perMessageDeflate: false });
    const closed = once(socket, 'close');
    socket.on('error', () => {});
    await once(socket, 'open');
    if (random() < 0.8) socket.send('40');
    const { data, binary } = oneOf(RAW, random)(random);
    socket.send(data, { binary: binary ?? false });
    const heard = new Promise<'heard'>((resolve) => {
      socket.on('message', (answer) => String(answer).startsWith('4377') && resolve('heard'));
    });
    socket.send('4277["sync",{"askedAt":0}]');
    const end = await Promise.race([closed.then(() => 'closed' as const), heard]);
    this.tally[end === 'heard' ? 'refused' : 'closed'] += 1;
    socket.terminate();
  }
}
