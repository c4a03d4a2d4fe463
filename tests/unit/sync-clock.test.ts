import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SyncedClock } from '../../client/common/pool-clock.ts';
import { DRIFT } from '../../client/common/sync.ts';

/** The page's clocks, moved by hand; the device's time of day is a minute off. */
function aClock() {
  const page = { ms: 1000, wallMs: 61_000 };
  const clock = new SyncedClock({ pageNow: () => page.ms, wallNow: () => page.wallMs });
  const pass = (delayMs: number): void => {
    page.ms += delayMs;
    page.wallMs += delayMs;
  };
  /** An exchange that takes no time on a pool clock `offsetMs` ahead of the page's. */
  const learn = (offsetMs: number, delayMs = 2): boolean => {
    const middle = page.ms - delayMs / 2 + offsetMs;
    return clock.learn({ askedAt: page.ms - delayMs, receivedAt: middle, answeredAt: middle, heardAt: page.ms });
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
    // Half of two milliseconds, and what the clocks may drift apart in that time.
    expect(clock.boundMs()).toBe(1 + 2 * DRIFT);
  });

  it('gives the pool instant of a moment on the page’s clock', () => {
    const { clock, learn } = aClock();
    learn(9000);
    expect(clock.at(500)).toBe(9500);
  });

  it('[SYN2] ahead of a better estimate it is slowed by 5 ms a second until that has caught up', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    expect(clock.now()).toBe(10_000);
    pass(1000);
    learn(8990, 2);
    expect(clock.now()).toBe(11_000);
    pass(1000);
    expect(clock.now()).toBe(11_995);
    pass(1000);
    expect(clock.now()).toBe(12_990);
    pass(1000);
    expect(clock.now()).toBe(13_990);
  });

  it('[SYN2] behind a better estimate it gains 5 ms a second, and a press has the estimate at once', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    clock.now();
    pass(1000);
    learn(9010, 2);
    pass(1000);
    expect(clock.now()).toBe(12_005);
    expect(clock.at(3000)).toBe(12_010);
  });

  it('[SYN2] is corrected the same way however seldom it is read', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    clock.now();
    pass(1000);
    learn(8990, 2);
    pass(1500);
    expect(clock.now()).toBe(12_492.5);
  });

  it('[SYN2] in the first second a better estimate is shown at once, standing still where it is behind', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 40);
    expect(clock.now()).toBe(10_000);
    pass(125);
    learn(8990, 4);
    expect(clock.now()).toBe(10_125);
    pass(10);
    expect(clock.now()).toBe(10_125);
    pass(10);
    expect(clock.now()).toBe(10_135);
    learn(8991, 2);
    expect(clock.now()).toBe(10_136);
  });

  it('[SYN2] an estimate too uncertain to stand by is not slewed away from', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 900);
    clock.now();
    pass(2000);
    learn(9400, 2);
    expect(clock.now()).toBe(clock.at(3000));
  });

  it('[SYN4] stands still after a jump back, and goes on with the pool’s clock once that has come to it', () => {
    const { clock, pass, learn } = aClock();
    learn(9000);
    clock.now();
    pass(2000);
    expect(learn(6000)).toBe(true);
    expect(clock.now()).toBe(12_000);
    pass(2999);
    expect(clock.now()).toBe(12_000);
    pass(2);
    expect(clock.now()).toBe(12_001);
  });

  it('[SYN4] stands still for a minute at most: a clock further ahead is another clock, and is left', () => {
    const { clock, pass, learn } = aClock();
    learn(9000);
    clock.now();
    pass(2000);
    learn(9000 - 60_000);
    expect(clock.now()).toBe(12_000);
    learn(9000 - 60_010);
    learn(9000 - 3_600_000);
    expect(clock.now()).toBe(12_000 - 3_600_000);
  });

  it('[SYN4] a frame that began before the last reading shows what was shown then', () => {
    const { clock, pass, learn } = aClock();
    learn(9000);
    pass(16);
    expect(clock.now()).toBe(10_016);
    expect(clock.shownAt(1010)).toBe(10_016);
    expect(clock.shownAt(1032)).toBe(10_032);
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

  it('[SYN3] after a jump there is no bound, before anybody has asked about it, until the next exchange', () => {
    const { clock, page, learn } = aClock();
    learn(9000);
    page.wallMs += 600_000;
    expect(clock.boundMs()).toBeNull();
    expect(clock.hasJumped()).toBe(true);
    clock.restart();
    expect(clock.boundMs()).toBeNull();
    learn(609_000);
    expect(clock.boundMs()).not.toBeNull();
  });

  it('[SYN3] after a jump the first second is for settling again', () => {
    const { clock, pass, learn } = aClock();
    learn(9000);
    clock.now();
    pass(2000);
    learn(12_000, 40);
    expect(clock.now()).toBe(15_000);
    pass(125);
    learn(12_010, 2);
    expect(clock.now()).toBe(15_135);
    pass(1000);
    learn(12_011.5, 1);
    expect(clock.now()).toBe(16_135);
  });

  it('[SYN3] an exchange that contradicts the ones before is believed, and they are not', () => {
    const { clock, pass, learn } = aClock();
    learn(9000, 2);
    pass(2000);
    expect(learn(9500, 100)).toBe(true);
    expect(clock.at(0)).toBe(9500);
    pass(2000);
    expect(learn(9510, 100)).toBe(false);
  });

  it('[SYN5] says how good its knowledge is', () => {
    const { clock, pass, learn } = aClock();
    expect(clock.status()).toEqual({ boundMs: null, ageMs: null, driftPpm: 0 });
    learn(9000, 40);
    pass(20_000);
    expect(clock.status()).toEqual({ boundMs: 20 + 20_040 * DRIFT, ageMs: 20_040, driftPpm: 0 });
    clock.restart();
    expect(clock.status()).toEqual({ boundMs: null, ageMs: null, driftPpm: 0 });
  });
});
