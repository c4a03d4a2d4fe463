import { once } from 'node:events';
import { WebSocket } from 'ws';
import { z } from 'zod';

const answerSchema = z.object({ id: z.number(), result: z.unknown() });
const bytesSchema = z.object({ result: z.object({ value: z.number() }) });

/**
 * What another Node process holds on to, by its inspector (Chrome DevTools Protocol). It runs with `--inspect=127.0.0.1:0`,
 * and prints where that is to be found.
 */
export class HeapOf {
  readonly #socket: WebSocket;
  #asked = 0;

  private constructor(socket: WebSocket) {
    this.#socket = socket;
  }

  /** @param printed what the process has said on standard error */
  static async on(printed: string): Promise<HeapOf> {
    const [address] = /ws:\/\/127\.0\.0\.1:\d+\/[\w-]+/.exec(printed) ?? [];
    if (address === undefined) throw new Error(`no inspector: ${printed.slice(0, 200)}`);
    const socket = new WebSocket(address);
    await once(socket, 'open');
    return new HeapOf(socket);
  }

  /** After everything that nobody holds has been let go, MB. */
  async usedMb(): Promise<number> {
    await this.#ask('HeapProfiler.collectGarbage');
    const expression = 'process.memoryUsage().heapUsed + process.memoryUsage().external';
    const { result } = bytesSchema.parse(await this.#ask('Runtime.evaluate', { expression, returnByValue: true }));
    return result.value / 2 ** 20;
  }

  close(): void {
    this.#socket.terminate();
  }

  #ask(method: string, params: object = {}): Promise<unknown> {
    this.#asked += 1;
    const id = this.#asked;
    return new Promise((resolve) => {
      const hear = (data: unknown): void => {
        const answer = answerSchema.safeParse(JSON.parse(String(data)));
        if (!answer.success || answer.data.id !== id) return;
        this.#socket.off('message', hear);
        resolve(answer.data.result);
      };
      this.#socket.on('message', hear);
      this.#socket.send(JSON.stringify({ id, method, params }));
    });
  }
}
