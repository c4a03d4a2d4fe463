import type { ReadonlySignal } from '@preact/signals-core';
import type { CommandId, Instant } from '../../shared-types/brand.ts';
import type { Answer, Command } from '../../shared-types/commands.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Run } from '../../shared-types/events.ts';
import type { MarkBook, MarkCommand, MarkEvent } from '../../shared-types/marks.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { Status } from '../../shared-types/wire/from-screen.ts';
import type { Changed, Labels, ScreenInfo, Settings } from '../../shared-types/wire/from-server.ts';
import type { Identify, WallInfo, WallSetUp } from '../../shared-types/wire/walls.ts';
import type { Without } from '../../shared-types/without.ts';

/**
 * What every page is given of the server: one connection, one synchronised clock, the practice on the wall.
 * Made once by `openLink` (link.ts) in a page's main.ts.
 */

/** The pool's clock as this page has it. */
export interface PoolClock {
  /** [SYN4] The pool instant to show now; never goes back. */
  now(): Instant;
  /** [SYN4] The pool instant to show in a frame of this time, ms on the page's own clock; never goes back either. */
  shownAt(pageMs: number): Instant;
  /** The pool instant of a moment on this page's own clock, e.g. an event's `timeStamp` (ms, as performance.now()). */
  at(pageMs: number): Instant;
  /** Bound of the error, ms; null before the first estimate. */
  boundMs(): number | null;
}

/** connecting: never been there yet; live; alone: was live, the page goes on by itself; refused: see `refusal`. */
export type LinkState = 'connecting' | 'live' | 'alone' | 'refused';

/** A run with the sheet it moves along. */
export interface LivePractice {
  readonly run: Run;
  readonly sheet: Sheet;
  readonly labels: Labels;
}

/** A command without what the link itself adds. */
export type Press = Without<Command, 'id' | 'device' | 'run' | 'basedOnSeq'>;

/** A mark or a repair without what the link itself adds. */
export type Marking = Without<MarkCommand, 'id' | 'device' | 'run'>;

/** [CMD5] The times taken of the run on the wall; empty on walls. */
export interface Times {
  /** As the server has them. */
  readonly book: ReadonlySignal<MarkBook>;
  /** The mark event told last, of whatever run: late times come for those that are off the wall. Null: none yet. */
  readonly heard: ReadonlySignal<Pick<MarkEvent, 'run' | 'seq'> | null>;
  /** [CMD8] What it has not answered yet, oldest first; of other runs too. */
  readonly waiting: ReadonlySignal<readonly MarkCommand[]>;
  /** Why the last one was refused for good, in words. */
  readonly refusal: ReadonlySignal<string | null>;
  /** Everybody who left up to `t`, as far as this page knows. */
  departuresAt(t: Instant): readonly Departure[];
  /**
   * [CMD8] Puts a mark or a repair into the outbox, from where it is sent until it is answered.
   * @returns its id, or null when nothing is on the wall or the outbox is full
   */
  mark(marking: Marking): CommandId | null;
}

export interface Link {
  readonly clock: PoolClock;
  readonly state: ReadonlySignal<LinkState>;
  /** Why the server would not have this page, in words. */
  readonly refusal: ReadonlySignal<string | null>;
  /** Null when nothing is on the wall (or its sheet has yet to come). Replaced as a whole at every change. */
  readonly practice: ReadonlySignal<LivePractice | null>;
  /** Whether the server has told this page what is on the wall, with its sheet; stays true from then on. */
  readonly told: ReadonlySignal<boolean>;
  readonly settings: ReadonlySignal<Settings>;
  /** Who else is connected; empty on walls. */
  readonly screens: ReadonlySignal<readonly ScreenInfo[]>;
  /** How this wall has been set up; null until the server says so, and on decks and desks. */
  readonly wall: ReadonlySignal<WallSetUp | null>;
  /** That this wall is to say its name and number: another object each time; null before the first. */
  readonly identify: ReadonlySignal<Identify | null>;
  /** All walls, by their numbers; empty but on desks. */
  readonly walls: ReadonlySignal<readonly WallInfo[]>;
  /** What was changed from a desk or a deck: another object each time; null before the first, and but on desks. */
  readonly changed: ReadonlySignal<Changed | null>;
  /** [CMD1] Sends a press once; null when the server did not answer within 3 s or is not connected. */
  press(press: Press): Promise<Answer | null>;
  readonly times: Times;
  report(status: Status): void;
}
