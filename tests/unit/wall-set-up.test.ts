import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box, Rect } from '../../client/wall/boxes.ts';
import { layOut, layOutIdentity, safeArea } from '../../client/wall/lay-out.ts';
import { lanesSeen, seenFrom, wallName } from '../../client/wall/set-up.ts';
import { wallIdOf } from '../../client/wall/wall-id.ts';
import { idleBoard } from '../../shared-types/board/board.ts';
import { type DeviceId, laneNumber } from '../../shared-types/brand.ts';
import type { WallSettings, WallSetUp } from '../../shared-types/wire/walls.ts';
import { AT, anyScreen, everydayBoard } from './wall-layout-boards.ts';

const FACE = { timezone: 'UTC', trimMs: 0 };

const wall = (change: Partial<WallSettings> = {}): WallSetUp => ({
  number: 2,
  settings: {
    name: 'Far end',
    place: 'far',
    lanes: null,
    order: 'first-on-top',
    diagonalInches: null,
    distanceM: null,
    sound: { on: false, offsetMs: 0 },
    ...change,
  },
});

describe('the lanes a wall shows', () => {
  const sheet = { lanes: [1, 2, 3, 4, 5, 6].map((lane) => ({ lane: laneNumber(lane) })) };
  const some = [6, 4, 5, 8].map(laneNumber);

  it('are all of the practice, lane 1 at the top, until it is set up', () => {
    expect(lanesSeen(sheet, null).lanes).toEqual([1, 2, 3, 4, 5, 6]);
    expect(lanesSeen(sheet, { number: 1, settings: null }).lanes).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('are the ones set that the practice has, and mirrored for those who look from the other side', () => {
    expect(lanesSeen(sheet, wall({ lanes: some })).lanes).toEqual([4, 5, 6]);
    expect(lanesSeen(sheet, wall({ lanes: some, order: 'last-on-top' })).lanes).toEqual([6, 5, 4]);
    expect(lanesSeen(sheet, wall({ order: 'last-on-top' })).lanes).toEqual([6, 5, 4, 3, 2, 1]);
    expect(lanesSeen(sheet, wall({ lanes: [laneNumber(9)] })).lanes).toEqual([]);
  });

  it('have the screen’s own end of the pool at the right, so that who swims towards it moves to the right', () => {
    expect(lanesSeen(sheet, null).rightEnd).toBe('far');
    expect(lanesSeen(sheet, wall({ place: 'near' })).rightEnd).toBe('near');
  });
});

describe('what is known of picture and reader', () => {
  const address = new URLSearchParams('diagonal=75&distance=15');

  it('is what the address says where nothing has been set', () => {
    expect(seenFrom(null, address)).toEqual({ diagonalInches: 75, distanceM: 15 });
    expect(seenFrom(wall(), address)).toEqual({ diagonalInches: 75, distanceM: 15 });
    expect(seenFrom(wall({ diagonalInches: 55 }), address)).toEqual({ diagonalInches: 55, distanceM: 15 });
    expect(seenFrom(wall({ distanceM: 8 }), new URLSearchParams('diagonal=huge&distance=-3'))).toEqual({
      distanceM: 8,
    });
  });
});

const textsOf = (boxes: readonly Box[]): string[] => boxes.flatMap((box) => (box.kind === 'text' ? [box.text] : []));
const overlap = (a: Rect, b: Rect): boolean =>
  a.x + a.width > b.x + 0.5 && b.x + b.width > a.x + 0.5 && a.y + a.height > b.y + 0.5 && b.y + b.height > a.y + 0.5;

function expectApart(boxes: readonly Box[], within: Rect): void {
  const drawn = boxes.filter(({ kind }) => kind !== 'panel');
  for (const [place, one] of drawn.entries()) {
    expect(one.x).toBeGreaterThanOrEqual(within.x - 0.5);
    expect(one.y).toBeGreaterThanOrEqual(within.y - 0.5);
    expect(one.x + one.width).toBeLessThanOrEqual(within.x + within.width + 0.5);
    expect(one.y + one.height).toBeLessThanOrEqual(within.y + within.height + 0.5);
    const other = drawn.slice(place + 1).find((candidate) => overlap(one, candidate));
    expect(other && `${JSON.stringify(one)} ${JSON.stringify(other)}`).toBeUndefined();
  }
}

describe('a wall says which one it is', () => {
  const names = fc.constantFrom('', 'Far end', 'Über den Startblöcken, Bahn 4–6', 'W'.repeat(30));
  const walls = fc
    .record({ number: fc.integer({ min: 1, max: 99 }), name: names })
    .map(({ number, name }): WallSetUp => (name === '' ? { number, settings: null } : { ...wall({ name }), number }));

  it('by its number, and by its name once it has one', () => {
    expect([wallName(null), wallName({ number: 3, settings: null }), wallName(wall())]).toEqual([
      '',
      'wall 3',
      'wall 2 · Far end',
    ]);
  });

  it('small beside the pace clock while nothing is loaded, and not during a practice', () => {
    const TV = { width: 1920, height: 1080 };
    expect(textsOf(layOut(idleBoard(AT, FACE), TV, '', wallName(wall())).boxes)).toContain('wall 2 · Far end');
    expect(textsOf(layOut(everydayBoard(6), TV, '', wallName(wall())).boxes)).not.toContain('wall 2 · Far end');
  });

  it('which does not count for how far the pace clock can be read', () => {
    const TV = { width: 1920, height: 1080 };
    const bare = layOut(idleBoard(AT, FACE), TV);
    expect(layOut(idleBoard(AT, FACE), TV, '', wallName(wall())).readableToM).toBe(bare.readableToM);
  });

  it('without running into anything, on any screen', () => {
    fc.assert(
      fc.property(walls, anyScreen, fc.constantFrom('', 'no connection: going on alone'), (one, screen, notice) => {
        expectApart(layOut(idleBoard(AT, FACE), screen, notice, wallName(one)).boxes, safeArea(screen));
        expectApart(layOutIdentity(idleBoard(AT, FACE), screen, one).boxes, safeArea(screen));
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });

  it('large when asked: number and name can be read from farther than the board', () => {
    const TV = { width: 1920, height: 1080 };
    const { boxes, readableToM } = layOutIdentity(everydayBoard(6), TV, wall());
    expect(textsOf(boxes)).toEqual(['wall', ':23', '2', 'Far end']);
    expect(readableToM).toBeGreaterThan(layOut(everydayBoard(6), TV).readableToM);
  });
});

/** What a browser keeps. */
class KeptTexts {
  readonly #texts = new Map<string, string>();
  getItem(key: string): string | null {
    return this.#texts.get(key) ?? null;
  }
  setItem(key: string, text: string): void {
    this.#texts.set(key, text);
  }
}

/** A device with a browser that opens walls; its time of day moves by hand. */
class WallDevice {
  now = 1_700_000_000_000;
  readonly storage: KeptTexts | null;
  #open: { use: () => void }[] = [];

  constructor(storage: KeptTexts | null = new KeptTexts()) {
    this.storage = storage;
  }

  /** @returns the page's id, and what it does when it is closed or reloaded in good order */
  open(tab: KeptTexts | null = new KeptTexts()): { id: DeviceId; tab: KeptTexts | null; hide: () => void } {
    const page = { use: () => {} };
    let hide = (): void => {};
    const id = wallIdOf({
      device: this.storage,
      tab,
      page: {
        addEventListener: (event: string, heard: unknown) => {
          if (event === 'pagehide' && typeof heard === 'function') hide = () => heard();
        },
      },
      wallNow: () => this.now,
      every: (_ms, use) => {
        page.use = use;
      },
    });
    this.#open.push(page);
    return {
      id,
      tab,
      hide: () => {
        this.#open = this.#open.filter((one) => one !== page);
        hide();
      },
    };
  }

  /** So much time goes by, in which the open pages say that they are there. */
  pass(seconds: number): void {
    for (let second = 0; second < seconds; second += 2) {
      this.now += 2000;
      for (const { use } of this.#open) use();
    }
  }

  /** As when its plug is pulled: no page hears of it. */
  switchOff(): void {
    this.#open = [];
  }
}

describe("a wall's id", () => {
  it('lasts over a reload, and over a restart of the browser', () => {
    const device = new WallDevice();
    const wall = device.open();
    device.pass(60);
    wall.hide();
    expect(device.open(wall.tab).id).toBe(wall.id);
    device.pass(60);
    device.switchOff();
    device.pass(20);
    expect(device.open().id).toBe(wall.id);
  });

  it('lasts over a loss of power after which the device has forgotten the time', () => {
    const device = new WallDevice();
    const { id } = device.open();
    device.switchOff();
    device.now = 0;
    expect(device.open().id).toBe(id);
  });

  it('is its own in each of several walls of one browser, also in a tab that was duplicated', () => {
    const device = new WallDevice();
    const [first, second] = [device.open(), device.open()];
    device.pass(60);
    const third = device.open(first.tab);
    expect(new Set([first.id, second.id, third.id]).size).toBe(3);
    first.hide();
    second.hide();
    expect(device.open(second.tab).id).toBe(second.id);
    expect(device.open(first.tab).id).not.toBe(second.id);
  });

  it('lasts as long as the tab where the browser stores nothing for longer', () => {
    const device = new WallDevice(null);
    const { id, tab } = device.open();
    expect(device.open(tab).id).toBe(id);
    expect(device.open(null).id).not.toBe(id);
  });

  it('is a new one where what is stored cannot be read', () => {
    const device = new WallDevice();
    device.storage?.setItem('farwall-walls', '{"not": "ours"');
    const { id } = device.open();
    expect(id).toMatch(/^[0-9a-f]{32}$/);
    device.switchOff();
    device.pass(20);
    expect(device.open().id).toBe(id);
  });
});
