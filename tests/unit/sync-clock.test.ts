import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SyncedClock } from '../../client/common/pool-clock.ts';

/** The page's clocks, moved by hand; the device's time of day is a minute off. */
function aClock() {
  const page = { ms: 1000, wallMs: 61_000 };
  const clock = new SyncedClock({ pageNow: () => page.ms, wallNow: () => page.wallMs });
  const pass = (delayMs: number): void => {
    page.ms += delayMs;
    page.wallMs += delayMs;
  };
  /** An exchange that takes no time on a pool clock `offsetMs` ahead of the page's. */
  const learn = (offsetMs: number, delayMs = 2): void => {
    const middle = page.ms - delayMs / 2 + offsetMs;
    clock.learn({ askedAt: page.ms - delayMs, receivedAt: middle, answeredAt: middle, heardAt: page.ms });
  };
  return { clock, page, pass, learn };
}

describe('the pool clock of a page', () => {
  it('shows the device’s own time of day, with no bound, until the first exchange', () => {
    const { clock } = aClock();
    expect(clock.now()).toBe(61_000);
    expect(clock.boundMs()).toBeNull();
  });

  it('[SYN4] may go back once, at the first exchange', () => {
    const { clock, learn } = aClock();
    clock.now();
    learn(9000);
    expect(clock.now()).toBe(10_000);
    expect(clock.boundMs()).toBe(1);
  });

  it('gives the pool instant of a moment on the page’s clock', () => {
    const { clock, learn } = aClock();
    learn(9000);
    expect(clock.at(500)).toBe(9500);
  });

  it('[SYN4] ahead of a better estimate it runs at half speed until that has caught up', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    expect(clock.now()).toBe(10_000);
    pass(1000);
    learn(8990, 2);
    expect(clock.now()).toBe(11_000);
    pass(10);
    expect(clock.now()).toBe(11_005);
    pass(10);
    expect(clock.now()).toBe(11_010);
    pass(10);
    expect(clock.now()).toBe(11_020);
  });

  it('[SYN4] slows down the same way however seldom it is read', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    clock.now();
    pass(1000);
    learn(8990, 2);
    pass(10);
    expect(clock.now()).toBe(11_005);
  });

  it('[SYN4] never goes back, whatever the exchanges say', () => {
    const step = fc.record({
      passMs: fc.integer({ min: 0, max: 5000 }),
      offsetMs: fc.option(fc.integer({ min: -20_000, max: 20_000 })),
      delayMs: fc.integer({ min: 0, max: 900 }),
      restart: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 80 }), (steps) => {
        const { clock, pass, learn } = aClock();
        learn(0);
        let last = clock.now();
        for (const { passMs, offsetMs, delayMs, restart } of steps) {
          pass(passMs);
          if (restart) clock.restart();
          if (offsetMs !== null) learn(offsetMs, delayMs);
          expect(clock.now()).toBeGreaterThanOrEqual(last);
          last = clock.now();
        }
      }),
    );
  });

  it('[SYN3] notices that the device slept, once', () => {
    const { clock, page, pass } = aClock();
    pass(5000);
    expect(clock.hasJumped()).toBe(false);
    page.wallMs += 600_000;
    expect(clock.hasJumped()).toBe(true);
    expect(clock.hasJumped()).toBe(false);
  });

  it('[SYN3] after a restart there is no bound, and the last offset serves', () => {
    const { clock, learn } = aClock();
    learn(9000);
    clock.restart();
    expect(clock.boundMs()).toBeNull();
    expect(clock.now()).toBe(10_000);
  });
});
