import { setTimeout as after } from 'node:timers/promises';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';
import { failure, type KnownFailure } from '../failure.ts';
import { sendFailure } from './answers.ts';
import { LARGER_BODIES, type Limits } from './limits.ts';

const WITHIN_S = 3;

const TOO_FAST = failure('too-fast', 'Too much was asked of the server at once.', { fix: 'Wait some seconds.' });

/** How long until another is let through; 0: this one is. Ms. */
export async function waitMs(limiter: RateLimiterMemory, key: string): Promise<number> {
  try {
    await limiter.consume(key);
    return 0;
  } catch (refused) {
    // Anything else is a bug.
    if (refused instanceof RateLimiterRes) return Math.max(1, refused.msBeforeNext);
    throw refused;
  }
}

/**
 * Requests in time. A paired device that asks too much is slowed down, and no other with it; whoever is not paired is
 * told to come again, which costs next to nothing.
 */
class RequestPace {
  readonly #limits: Limits;
  readonly #devices: RateLimiterMemory;
  readonly #strangers: RateLimiterMemory;
  readonly #waiting = new Map<string, number>();

  constructor(limits: Limits) {
    this.#limits = limits;
    this.#devices = new RateLimiterMemory({ points: limits.requestsOfDevice, duration: WITHIN_S });
    this.#strangers = new RateLimiterMemory({ points: limits.requestsOfStranger, duration: WITHIN_S });
  }

  /** Waits for its turn. @returns why it has none */
  async turn({ device, ip }: Pick<FastifyRequest, 'device' | 'ip'>): Promise<KnownFailure | null> {
    if (!device) return (await waitMs(this.#strangers, ip)) === 0 ? null : TOO_FAST;
    for (;;) {
      const ms = await waitMs(this.#devices, device.id);
      if (ms === 0) return null;
      if (!(await this.#waited(device.id, ms))) return TOO_FAST;
    }
  }

  /** @returns false when too many wait already */
  async #waited(key: string, ms: number): Promise<boolean> {
    const waiting = this.#waiting.get(key) ?? 0;
    if (waiting >= this.#limits.requestsWaiting) return false;
    this.#waiting.set(key, waiting + 1);
    await after(ms, undefined, { ref: false });
    const left = (this.#waiting.get(key) ?? 1) - 1;
    if (left === 0) this.#waiting.delete(key);
    else this.#waiting.set(key, left);
    return true;
  }
}

/** Once it is known whose requests are: holds back who asks too much, and bodies that are too large for their route. */
export function limitRequests(app: FastifyInstance, limits: Limits): void {
  const pace = new RequestPace(limits);
  app.addHook('onRoute', (route) => {
    const larger = LARGER_BODIES[`${[route.method].flat()[0]} ${route.url}`];
    if (larger !== undefined) route.bodyLimit = larger;
  });
  app.addHook('onRequest', async (request, reply) => {
    const tooFast = await pace.turn(request);
    if (!tooFast) return undefined;
    return sendFailure(reply.header('retry-after', String(WITHIN_S)), tooFast);
  });
}
