import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';
import { describe, expect, onTestFinished, test } from 'vitest';
import { seeded } from '../bench/seeded.ts';
import { drawnHolds, type Holds, TcpProxy } from './tcp-proxy.ts';

/** A server that sends back what it is told. @returns its port */
async function echoServer(heard: (bytes: Buffer) => void = () => {}): Promise<number> {
  const callers = new Set<Socket>();
  const server = createServer((caller) => {
    callers.add(caller);
    caller.on('error', () => caller.destroy());
    caller.on('data', (bytes: Buffer) => {
      heard(bytes);
      caller.write(bytes);
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    for (const caller of callers) caller.destroy();
    server.close();
  });
  const address = server.address();
  if (typeof address !== 'object' || !address) throw new Error('no port');
  return address.port;
}

/** Somebody who calls a port, with all that came back. */
class Caller {
  readonly socket: Socket;
  readonly gone: Promise<unknown>;
  heard = '';

  constructor(port: number) {
    this.socket = connect({ port, host: '127.0.0.1', noDelay: true });
    this.socket.setEncoding('latin1');
    this.socket.on('error', () => this.socket.destroy());
    this.socket.on('data', (text) => {
      this.heard += text;
    });
    this.gone = new Promise((resolve) => this.socket.on('close', resolve));
    onTestFinished(() => void this.socket.destroy());
  }

  say(words: string): void {
    this.socket.write(words, 'latin1');
  }

  /** Waits until it has heard all of this. */
  async hears(words: string): Promise<void> {
    await expect.poll(() => this.heard, { interval: 1, timeout: 10_000 }).toBe(words);
  }
}

const lineTo = async (holds?: Holds): Promise<TcpProxy> => TcpProxy.to(await echoServer(), holds);

const JITTERY = { delayMs: 1, jitterMs: 8, lossShare: 0.02 };

describe('a line to a server', () => {
  test('passes every byte on, in order, whatever each chunk is held for', async () => {
    const [there, back] = [drawnHolds(JITTERY, seeded(1)), drawnHolds(JITTERY, seeded(2))];
    const caller = new Caller((await lineTo({ there, back })).port);
    const words = Array.from({ length: 300 }, (_, nth) => `${nth} `);
    for (const word of words) {
      caller.say(word);
      // A chunk of its own, as far as the machine allows.
      await new Promise((resolve) => setImmediate(resolve));
    }
    await caller.hears(words.join(''));
  });

  test('passes on what was said before the caller hung up, and then that', async () => {
    const heard: string[] = [];
    const port = await echoServer((bytes) => heard.push(bytes.toString('latin1')));
    const line = await TcpProxy.to(port, { there: () => 60, back: () => 60 });
    const caller = new Caller(line.port);
    caller.socket.end('the last words', 'latin1');
    await caller.hears('the last words');
    await caller.gone;
    expect(heard.join('')).toBe('the last words');
  });

  test('holds each way for as long as it is told, or longer', async () => {
    let reachedAt = 0;
    const port = await echoServer(() => {
      reachedAt = performance.now();
    });
    const caller = new Caller((await TcpProxy.to(port, { there: () => 80, back: () => 30 })).port);
    await once(caller.socket, 'connect');
    const saidAt = performance.now();
    caller.say('there and back');
    await caller.hears('there and back');
    expect(reachedAt - saidAt).toBeGreaterThanOrEqual(80);
    expect(performance.now() - reachedAt).toBeGreaterThanOrEqual(30);
  });

  test('that is cut breaks off who is there, refuses who calls, and takes calls again when it is mended', async () => {
    const line = await lineTo();
    const caller = new Caller(line.port);
    caller.say('before');
    await caller.hears('before');
    line.cut();
    await caller.gone;
    const refused = new Caller(line.port);
    refused.say('anybody there?');
    await refused.gone;
    expect(refused.heard).toBe('');
    line.mend();
    const again = new Caller(line.port);
    again.say('after');
    await again.hears('after');
  });

  test('that is frozen says nothing to whom it is frozen for, and goes on where it was when it thaws', async () => {
    const line = await lineTo();
    const [before, other] = [new Caller(line.port), new Caller(line.port)];
    before.say('socket\r\n');
    await before.hears('socket\r\n');
    line.freeze((firstLine) => firstLine === 'socket');
    before.say('one ');
    const during = new Caller(line.port);
    during.say('socket\r\n');
    for (let times = 1; times <= 50; times += 1) {
      other.say('.');
      await other.hears('.'.repeat(times));
    }
    expect([before.heard, during.heard]).toEqual(['socket\r\n', '']);
    expect([before.socket.readyState, during.socket.readyState]).toEqual(['open', 'open']);
    before.say('two');
    line.mend();
    await before.hears('socket\r\none two');
    await during.hears('socket\r\n');
  });

  test('tells a caller what the server never said', async () => {
    const line = await lineTo();
    const [told, other] = [new Caller(line.port), new Caller(line.port)];
    told.say('told\r\n');
    await told.hears('told\r\n');
    other.say('other');
    await other.hears('other');
    line.sayBack(Buffer.from('go'), (firstLine) => firstLine === 'told');
    await told.hears('told\r\ngo');
    other.say('!');
    await other.hears('other!');
  });

  test('hangs up on a caller when there is no server', async () => {
    const server = createServer().listen(0, '127.0.0.1');
    await once(server, 'listening');
    const address = server.address();
    const line = await TcpProxy.to(typeof address === 'object' && address ? address.port : 0);
    await new Promise((resolve) => server.close(resolve));
    await new Caller(line.port).gone;
  });
});

describe('what chunks are held for by chance', () => {
  const TRAITS = { delayMs: 10, jitterMs: 100, lossShare: 0.1 };
  const drawn = (seed: number): number[] => {
    const holdOf = drawnHolds(TRAITS, seeded(seed));
    return Array.from({ length: 1000 }, holdOf);
  };

  test('is the same again for the same seed, and another for another', () => {
    expect(drawn(7)).toEqual(drawn(7));
    expect(drawn(7)).not.toEqual(drawn(8));
  });

  test('is at least the delay; a tenth waits for being sent again', () => {
    const held = drawn(7);
    expect(Math.min(...held)).toBeGreaterThanOrEqual(10);
    const lost = held.filter((ms) => ms >= 210).length;
    expect(held.every((ms) => ms < 110 || ms >= 210)).toBe(true);
    // 1000 draws at 0.1: 100 ± 5 standard deviations of 9.5.
    expect(lost).toBeGreaterThan(52);
    expect(lost).toBeLessThan(148);
  });
});
