import type { Browser, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import type { Board } from '../../shared-types/board/board.ts';
import { complaintsOf } from './chrome.ts';
import { boardOf, type RunOnWall } from './pool-process.ts';
import type { Origin, TruePoolClock } from './true-time.ts';

/** A wall is drawn by the processor here: a small one leaves time to the rest. */
const SIZES = {
  wall: { width: 640, height: 360 },
  deck: { width: 1024, height: 768 },
  desk: { width: 1024, height: 768 },
};

/** How a page is opened when it is not as usual. */
interface Opened {
  readonly size?: { readonly width: number; readonly height: number };
  /** What its address asks for, e.g. `?renderer=canvas`. */
  readonly asking?: string;
}

/** Opens one of the pages through a port of this machine, on a device of its own. */
async function openOn(browser: Browser, port: number, name: keyof typeof SIZES, opened: Opened = {}): Promise<Page> {
  const { size = SIZES[name], asking = '' } = opened;
  const context = await browser.newContext({ viewport: size, hasTouch: name === 'deck' });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`http://pool.test:${port}/${name}${asking}`);
  return page;
}

/** What the browser holds against a page, besides that its socket could not be opened, which is as it should be. */
const complaintsWithoutServer = (page: Page): (() => string[]) => {
  const complaints = complaintsOf(page);
  return () => complaints.filter((complaint) => !complaint.startsWith('WebSocket connection to'));
};

/** One picture of a wall, as its mirror tells of it. */
export interface Picture {
  /** The pool instant it shows, and its frame's time on the page's clock, ms. */
  readonly poolAt: number;
  readonly drawnAt: number;
  /** Bound of the clock's error, ms. */
  readonly syncMs: number;
  readonly phase: string;
  readonly link: string;
  readonly lanes: readonly Readonly<Record<string, string>>[];
}

/** How the mirror tells of a board's lanes. */
const lanesOf = (board: Board): Picture['lanes'] =>
  board.lanes.map(({ lane, phase, rep, nextAt }) => ({
    lane: String(lane),
    phase,
    round: rep?.round === undefined ? '' : String(rep.round),
    rep: rep ? String(rep.rep) : '',
    reps: rep ? String(rep.reps) : '',
    nextAt: nextAt === null ? '' : String(Math.round(nextAt)),
  }));

const middleOf = (numbers: readonly number[]): number =>
  numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN;

export class WatchedWall {
  readonly page: Page;
  readonly complaints: () => string[];
  /** How often it was loaded since it was opened. */
  loads = 0;

  private constructor(page: Page) {
    this.page = page;
    this.complaints = complaintsWithoutServer(page);
    page.on('framenavigated', () => {
      this.loads += 1;
    });
  }

  static async on(browser: Browser, port: number, opened: Opened = {}): Promise<WatchedWall> {
    return new WatchedWall(await openOn(browser, port, 'wall', opened));
  }

  /** Waits until the mirror says this of the link. */
  links(state: 'live' | 'alone'): Promise<unknown> {
    return this.page.waitForSelector(`[data-board][data-link="${state}"]`, { state: 'attached' });
  }

  /** Waits until the error of the instants it shows is bounded by this, ms. */
  async knowsTimeWithin(boundMs: number): Promise<void> {
    await this.page.waitForFunction(
      (most) => {
        const syncMs = document.querySelector<HTMLElement>('[data-board]')?.dataset.syncMs;
        return syncMs !== undefined && syncMs !== '' && Number(syncMs) <= most;
      },
      boundMs,
      { polling: 100, timeout: 60_000 },
    );
  }

  /** Waits until the wall has drawn a picture of this instant or a later one. */
  async reaches(instant: number): Promise<void> {
    await this.page.waitForFunction(
      (at) => Number(document.querySelector<HTMLElement>('[data-board]')?.dataset.poolAt) >= at,
      instant,
      { polling: 20, timeout: 60_000 },
    );
  }

  words(): Promise<string | null> {
    return this.page.textContent('[data-board]');
  }

  async picture(): Promise<Picture> {
    const [picture] = await this.pictures(1, 0);
    if (!picture) throw new Error('the wall has drawn nothing');
    return picture;
  }

  /** So many pictures, `everyMs` after each other. */
  pictures(count: number, everyMs: number): Promise<Picture[]> {
    return this.page.evaluate(
      async ([most = 0, pauseMs = 0]) => {
        const seen: Picture[] = [];
        while (seen.length < most) {
          if (seen.length > 0) await new Promise((resolve) => setTimeout(resolve, pauseMs));
          const board = document.querySelector<HTMLElement>('[data-board]');
          const { poolAt, drawnAt, syncMs, phase = '', link = '' } = board?.dataset ?? {};
          const lanes = [...(board?.querySelectorAll<HTMLElement>('[data-lane]') ?? [])].map(({ dataset }) => {
            const { lane = '', round = '', rep = '', reps = '', nextAt = '' } = dataset;
            return { lane, phase: dataset.phase ?? '', round, rep, reps, nextAt };
          });
          const numbers = { poolAt: Number(poolAt), drawnAt: Number(drawnAt), syncMs: Number(syncMs || Number.NaN) };
          seen.push({ ...numbers, phase, link, lanes });
        }
        return seen;
      },
      [count, everyMs],
    );
  }

  /** The wall shows what the run's board says for the instant it shows. @returns the picture */
  async isRight(live: RunOnWall): Promise<Picture> {
    const picture = await this.picture();
    const board = boardOf(live, picture.poolAt);
    expect(picture.phase).toBe(board.phase);
    expect(picture.lanes).toEqual(lanesOf(board));
    return picture;
  }

  /** Waits until it is right. @returns the picture */
  async becomesRight(live: RunOnWall): Promise<Picture> {
    const isRight = (): Promise<boolean> =>
      this.isRight(live).then(
        () => true,
        () => false,
      );
    await expect.poll(isRight, { timeout: 10_000 }).toBe(true);
    return this.isRight(live);
  }

  /** By how much the shown clock is ahead of the pool's, ms. */
  async errorMs(truth: TruePoolClock, origin: Origin): Promise<number> {
    // Middle of many: a frame that began before the last answer came shows the instant of that answer.
    const pictures = await this.pictures(15, 40);
    return middleOf(pictures.map((picture) => errorOf(picture, truth, origin)));
  }
}

/** By how much a picture's instant is ahead of the pool's clock at its frame, ms. */
export const errorOf = ({ poolAt, drawnAt }: Picture, truth: TruePoolClock, { ms }: Origin): number =>
  poolAt - truth.at(drawnAt + ms);

/** When a finger touched and when the page heard of it, ms on the page's clock. */
export interface Touch {
  readonly lane: number;
  readonly touchedAt: number;
  readonly heardAt: number;
}

export class WatchedDeck {
  readonly page: Page;
  readonly complaints: () => string[];

  private constructor(page: Page) {
    this.page = page;
    this.complaints = complaintsWithoutServer(page);
  }

  static async on(browser: Browser, port: number): Promise<WatchedDeck> {
    const deck = new WatchedDeck(await openOn(browser, port, 'deck'));
    await deck.links('live');
    return deck;
  }

  links(state: 'live' | 'alone'): Promise<unknown> {
    return this.page.waitForSelector(`[data-deck][data-link="${state}"]`);
  }

  runs(state: 'running' | 'held'): Promise<unknown> {
    return this.page.waitForSelector(`[data-deck][data-state="${state}"]`);
  }

  async press(kind: string, when?: string): Promise<void> {
    const timed = when === undefined ? '' : `[data-when="${when}"]`;
    await this.page.locator(`[data-press="${kind}"]${timed}:enabled`).tap();
  }

  /** Takes the time of the next swimmer of a lane. */
  async time(lane: number): Promise<Touch> {
    await this.page.evaluate(() => {
      const noteTouch = ({ timeStamp }: Event): void => {
        document.documentElement.dataset.touch = `${timeStamp} ${performance.now()}`;
      };
      document.addEventListener('pointerdown', noteTouch, { capture: true, once: true });
    });
    await this.page.locator(`[data-lane="${lane}"] [data-press="time"]:enabled`).tap();
    const told = await this.page.evaluate(() => document.documentElement.dataset.touch ?? '');
    const [touchedAt = Number.NaN, heardAt = Number.NaN] = told.split(' ').map(Number);
    return { lane, touchedAt, heardAt };
  }

  /** Waits until it says this of its link or of what it keeps. */
  says(words: string): Promise<void> {
    return this.page.locator('[data-link-words]').getByText(words, { exact: false }).waitFor();
  }

  keepsNothing(): Promise<unknown> {
    return this.page.waitForSelector('[data-kept]', { state: 'detached' });
  }

  /** `±3 ms`, as it says itself. */
  async boundMs(): Promise<number> {
    const words = await this.page.textContent('[data-link-words]');
    const bound = /±(\d+)\sms/.exec(words ?? '')?.[1];
    if (bound === undefined) throw new Error(`no bound in "${words}"`);
    return Number(bound);
  }

  /** Everything that its lanes say. */
  async lanes(): Promise<string> {
    return (await this.page.textContent('.lanes')) ?? '';
  }
}

export class WatchedDesk {
  readonly page: Page;
  readonly complaints: () => string[];

  private constructor(page: Page) {
    this.page = page;
    this.complaints = complaintsWithoutServer(page);
  }

  static async on(browser: Browser, port: number): Promise<WatchedDesk> {
    const desk = new WatchedDesk(await openOn(browser, port, 'desk'));
    await desk.links('live');
    return desk;
  }

  links(state: 'live' | 'alone'): Promise<unknown> {
    return this.page.waitForSelector(`[data-desk] [data-link="${state}"]`);
  }

  /** Waits until it says this of the run on the wall. */
  says(words: string): Promise<void> {
    return this.page.locator('.on-the-wall').getByText(words, { exact: false }).waitFor();
  }
}
