import { signal } from '@preact/signals-core';
import { describe, expect, test } from 'vitest';
import { WallSound } from '../../client/wall/sound.ts';
import { type SoundSetting, soundAskedBy } from '../../client/wall/sound-setting.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import { HandOutput } from '../fixtures/hand-output.ts';
import { sheetOf, twoLanes } from '../fixtures/sheets.ts';

const LOOK_EVERY_MS = 250;
/** Where the page's clock starts: nothing may take it for the pool's or the output's. */
const PAGE_FROM_MS = 41_000;

interface Form {
  readonly setting?: SoundSetting;
  readonly isAllowed?: boolean;
}

/** A wall's sound with a practice on the wall and all clocks moved by hand; seconds after {@link TOP}. */
class Hall {
  readonly coach: Coach;
  readonly setting;
  readonly sound: WallSound;
  opened = 0;
  boundMs: number | null = 2;
  /** How far the page's idea of the pool's clock is off, ms. */
  errorMs = 0;
  /** Seconds of the output's clock a second. */
  outputRate = 1;
  readonly output: HandOutput;
  readonly #practice;
  #pageMs = PAGE_FROM_MS;

  constructor(sheet: Sheet, { setting = { on: true, offsetMs: 0 }, isAllowed = true }: Form = {}) {
    this.coach = new Coach(sheet);
    this.setting = signal(setting);
    this.output = new HandOutput(() => this.#pageMs, isAllowed);
    this.#practice = signal({ run: this.coach.run, sheet });
    this.sound = new WallSound({
      setting: this.setting,
      practice: this.#practice,
      clock: { at: (pageMs) => instant(this.#poolAt(pageMs) + this.errorMs), boundMs: () => this.boundMs },
      pageNow: () => this.#pageMs,
      openOutput: () => {
        this.opened += 1;
        return this.output;
      },
    });
  }

  get seconds(): number {
    return (this.#pageMs - PAGE_FROM_MS) / 1000;
  }

  press(press: Press): void {
    expect(this.coach.press(press, this.seconds)).toMatchObject({ ok: true });
    this.#practice.value = { run: this.coach.run, sheet: this.coach.sheet };
  }

  /** Time goes by, and the page looks as often as it does. */
  until(seconds: number): void {
    while (this.seconds < seconds) {
      const byMs = Math.min(LOOK_EVERY_MS, (seconds - this.seconds) * 1000);
      this.#pageMs += byMs;
      this.output.pass(byMs, this.outputRate);
      this.sound.refresh();
    }
  }

  /** The device sleeps: the page's clock goes on, the output's stands still. */
  sleepUntil(seconds: number): void {
    this.#pageMs = PAGE_FROM_MS + seconds * 1000;
  }

  /** What was sounded or is about to be, as it is heard: `short 2`, in seconds to the millisecond. */
  get tones(): string[] {
    return this.output.sounded
      .filter(({ stopsAt }) => Number.isFinite(stopsAt))
      .map(({ startsAt, stopsAt }) => ({ at: this.output.heardAt(startsAt), isLong: stopsAt - startsAt > 0.3 }))
      .sort((a, b) => a.at - b.at)
      .map(({ at, isLong }) => `${isLong ? 'long' : 'short'} ${Math.round(this.#poolAt(at) - TOP) / 1000}`);
  }

  #poolAt(pageMs: number): number {
    return TOP + pageMs - PAGE_FROM_MS;
  }
}

const started = (sheet: Sheet, form: Form = {}): Hall => {
  const hall = new Hall(sheet, form);
  hall.press({ kind: 'start' });
  return hall;
};

const CALLED = ['short 2', 'short 3', 'short 4', 'long 5'];

describe('a wall that sounds', () => {
  test('hands each tone to the output once, ahead of its time, for the instant it is to be heard at', () => {
    const hall = started(twoLanes);
    hall.until(1.5);
    expect(hall.tones).toEqual(CALLED);
    hall.until(60);
    expect(hall.tones).toEqual(CALLED);
    expect(hall.output.takenBack).toBe(0);
  });

  test('sounds later or earlier by the offset of its screen', () => {
    const early = started(twoLanes, { setting: { on: true, offsetMs: -40 } });
    early.until(20);
    expect(early.tones).toEqual(['short 1.96', 'short 2.96', 'short 3.96', 'long 4.96']);
    const late = started(twoLanes, { setting: { on: true, offsetMs: 500 } });
    late.until(20);
    expect(late.tones).toEqual(['short 2.5', 'short 3.5', 'short 4.5', 'long 5.5']);
  });

  test('is silent where lanes leave apart', () => {
    const hall = started(twoLanes);
    hall.until(236);
    expect(hall.tones).toEqual(CALLED);
    hall.until(250);
    expect(hall.tones).toEqual([...CALLED, 'short 242', 'short 243', 'short 244', 'long 245']);
  });

  test('takes back on a hold what has not begun, and sounds for the send-off after it', () => {
    const hall = started(twoLanes);
    hall.until(3.2);
    hall.press({ kind: 'hold' });
    expect(hall.tones).toEqual(['short 2', 'short 3']);
    hall.until(20);
    hall.press({ kind: 'resume' });
    hall.until(40);
    expect(hall.tones).toEqual(['short 2', 'short 3', 'short 22', 'short 23', 'short 24', 'long 25']);
  });

  test('sounds as before when the hold is undone at once', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 2, every: 60 }));
    hall.until(61.5);
    hall.press({ kind: 'hold' });
    hall.until(61.75);
    hall.press({ kind: 'undo' });
    hall.until(70);
    expect(hall.tones).toEqual([...CALLED, 'short 62', 'short 63', 'short 64', 'long 65']);
  });

  test.each([
    ['a lane is put off', { kind: 'shift', lane: 2, byMs: 5000 }],
    ['the practice ends', { kind: 'finish' }],
  ] as const)('takes tones back when %s', (_, press) => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 2, every: 60 }));
    hall.until(63.5);
    hall.press(press);
    hall.until(70);
    expect(hall.tones).toEqual([...CALLED, 'short 62', 'short 63']);
  });

  test('leaves out what can no longer be in time', () => {
    const hall = new Hall(twoLanes);
    hall.until(2);
    hall.press({ kind: 'start', when: 'now' });
    hall.until(10);
    expect(hall.tones).toEqual([]);
  });
});

describe('clocks that go apart', () => {
  test('an output that is 100 ppm fast and reports with a scatter of 1 ms stays within a few ms', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 20, every: 60 }));
    hall.outputRate = 1 + 100e-6;
    const misses: number[] = [];
    for (let rep = 0; rep < 20; rep += 1) {
      const sendOff = 5 + rep * 60;
      while (hall.seconds < sendOff + 0.3) {
        hall.output.scatterMs = [0, 1, -1, 0.5, -0.5][Math.round(hall.seconds * 4) % 5] ?? 0;
        hall.until(hall.seconds + LOOK_EVERY_MS / 1000);
      }
      misses.push(...hall.tones.slice(-1).map((tone) => Number(tone.split(' ')[1]) - sendOff));
    }
    expect(misses).toHaveLength(20);
    expect(Math.max(...misses.map(Math.abs))).toBeLessThanOrEqual(0.004);
  });

  test('an output that never says when it is heard goes by its clock and the way to the ear', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 2, every: 60 }));
    hall.output.reports = false;
    hall.until(70);
    expect(hall.tones).toEqual([...CALLED, 'short 62', 'short 63', 'short 64', 'long 65']);
  });

  test("a correction of the pool's clock moves the tones to come, and only those", () => {
    const hall = started(twoLanes);
    hall.errorMs = 20;
    hall.until(3.5);
    hall.errorMs = 0;
    hall.until(20);
    // The clock was 20 ms ahead when the first two began.
    expect(hall.tones).toEqual(['short 1.98', 'short 2.98', 'short 4', 'long 5']);
  });

  test('a clock put back just after a tone began does not sound it again', () => {
    const hall = started(twoLanes);
    hall.until(2.01);
    hall.errorMs = -400;
    hall.until(2.2);
    hall.errorMs = 0;
    hall.until(20);
    expect(hall.tones).toEqual(CALLED);
  });

  test('an output that ran dry for 20 ms is followed at once', () => {
    const hall = started(twoLanes);
    hall.until(2.2);
    hall.sleepUntil(2.22);
    hall.until(20);
    expect(hall.tones).toEqual(CALLED);
  });

  test('after a sleep nothing that is past is sounded, and what is to come on time', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 2, every: 60 }));
    hall.until(1.5);
    hall.sleepUntil(58);
    hall.until(70);
    expect(hall.tones).toEqual(['short 62', 'short 63', 'short 64', 'long 65']);
  });

  test('without any bound on the clock there are no tones', () => {
    const hall = started(twoLanes);
    hall.boundMs = null;
    hall.until(20);
    expect(hall.tones).toEqual([]);
  });
});

describe('when it sounds at all', () => {
  test('off, it opens no output', () => {
    const hall = started(twoLanes, { setting: { on: false, offsetMs: 0 } });
    hall.until(20);
    hall.sound.press();
    expect(hall.opened).toBe(0);
    expect(hall.sound.notice.value).toBe('');
  });

  test('switched on in the middle of a practice it opens one, switched off it takes back and stands still', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 3, every: 60 }), { setting: { on: false, offsetMs: 0 } });
    hall.until(30);
    hall.setting.value = { on: true, offsetMs: 0 };
    hall.until(70);
    expect(hall.tones).toEqual(['short 62', 'short 63', 'short 64', 'long 65']);
    hall.until(123.5);
    hall.setting.value = { on: false, offsetMs: 0 };
    hall.until(130);
    expect(hall.tones.slice(4)).toEqual(['short 122', 'short 123']);
    expect(hall.output.state).toBe('suspended');
    hall.setting.value = { on: true, offsetMs: 0 };
    hall.until(131);
    expect(hall.output.state).toBe('running');
    expect(hall.opened).toBe(1);
  });

  test('runs with an unheard sound from the practice being put on the wall to its end, and stands still after', () => {
    const hall = new Hall(twoLanes);
    hall.until(1);
    expect(hall.output.state).toBe('running');
    expect(hall.output.sounded).toEqual([{ hertz: 25, startsAt: 0, stopsAt: Number.POSITIVE_INFINITY }]);
    hall.press({ kind: 'start' });
    hall.until(20);
    hall.press({ kind: 'hold' });
    hall.until(30);
    expect(hall.output.state).toBe('running');
    hall.press({ kind: 'finish' });
    hall.until(31);
    expect(hall.output.state).toBe('suspended');
  });

  test('stands still only when a tone that has begun is over, lest its rest come with the next practice', () => {
    const hall = started(twoLanes);
    hall.until(5.1);
    hall.press({ kind: 'finish' });
    hall.until(5.35);
    expect(hall.output.state).toBe('running');
    hall.until(6.5);
    expect(hall.output.state).toBe('suspended');
    expect(hall.tones).toEqual(CALLED);
  });

  test('locked by the browser it asks for a press, and sounds from that on', () => {
    const hall = started(twoLanes, { isAllowed: false });
    hall.until(0.5);
    expect(hall.sound.notice.value).toBe('');
    hall.until(1.5);
    expect(hall.sound.notice.value).toBe('press once for sound');
    hall.until(2.5);
    hall.output.isAllowed = true;
    hall.sound.press();
    hall.until(3.1);
    expect(hall.sound.notice.value).toBe('');
    hall.until(20);
    expect(hall.tones).toEqual(['short 4', 'long 5']);
  });

  test('an output that the system stopped is asked for again', () => {
    const hall = started(sheetOf({ lanes: 2 }, { reps: 2, every: 60 }));
    hall.until(20);
    void hall.output.suspend();
    hall.until(24);
    expect(hall.output.state).toBe('running');
    expect(hall.sound.notice.value).toBe('');
    hall.until(70);
    expect(hall.tones.slice(4)).toEqual(['short 62', 'short 63', 'short 64', 'long 65']);
  });
});

describe("what the wall's address asks for", () => {
  const askedBy = (address: string): SoundSetting => soundAskedBy(new URLSearchParams(address));

  test('nothing is off', () => expect(askedBy('diagonal=55')).toEqual({ on: false, offsetMs: 0 }));
  test('sound with an offset', () => expect(askedBy('sound=on&sound-offset=-40')).toEqual({ on: true, offsetMs: -40 }));
  test.each(['soon', '5000', 'NaN', ''])('an offset that is none, %s, counts as 0', (offset) =>
    expect(askedBy(`sound=on&sound-offset=${offset}`)).toEqual({ on: true, offsetMs: 0 }),
  );
});
