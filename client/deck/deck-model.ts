import { computed, effect, type ReadonlySignal, signal } from '@preact/signals';
import { type Board, boardAt, idleBoard } from '../../shared-types/board/board.ts';
import type { Instant, LaneNumber, RunId } from '../../shared-types/brand.ts';
import type { Change } from '../../shared-types/changes.ts';
import { worstWallMs } from '../common/clock-bound.ts';
import type { Link } from '../common/live.ts';
import { pressMoment } from '../common/press-moment.ts';
import { gridReading, leftToSendOff, mayRecall, type Offer, offerFor, undoOffer } from './actions.ts';
import { cautionAt } from './caution-words.ts';
import type { Contacts } from './contacts.ts';
import { type HeatPad, type HeatWords, heatPad, heatsWords, releaseOf } from './heat-words.ts';
import { heatsOf, laneHeatsAt } from './heats.ts';
import { type LaneTimes, laneTimesOver } from './lane-times.ts';
import type { LeadLines } from './lead-lines.ts';
import { type Presses, pressesOver } from './presses.ts';
import { type SetNow, setsToChange } from './set-changes.ts';
import { steady } from './steady.ts';
import type { TakingChoices } from './taking-choices.ts';
import { type LaneSwimmerNow, whoSwims } from './who-swims.ts';
import { keptWords, type LaneRow, laneRow, linkWords } from './words.ts';

/** What lies over the lanes. */
export type OpenPanel =
  | { readonly kind: 'change' }
  | { readonly kind: 'lane' | 'swimmers' | 'times' | 'keypad' | 'results'; readonly lane: LaneNumber };

/** Heats that go together, with what is said of them. */
export interface HeatsNow extends HeatWords {
  readonly lanes: readonly LaneNumber[];
}

/** Everything the deck's parts read and press, worked out anew at every tick; they are told only of what changed. */
export interface Deck {
  readonly link: Link;
  readonly presses: Presses;
  readonly board: ReadonlySignal<Board>;
  readonly offer: ReadonlySignal<Offer>;
  /** [CMD6] What an undo would take back, in words; empty when there is nothing. */
  readonly undo: ReadonlySignal<string>;
  /** The last go can be taken back as a false start. */
  readonly recall: ReadonlySignal<boolean>;
  readonly times: LaneTimes;
  /** What the times say so far. */
  readonly lines: LeadLines;
  /** The heats that lanes swim off the blocks now; empty: none. */
  readonly heats: ReadonlySignal<readonly HeatsNow[]>;
  /** A lane's pad while it swims heats; null when it does not. */
  heatPad(lane: LaneNumber): HeatPad | null;
  /** What to look at before anybody dives; empty when nobody is about to, or it has been read. */
  readonly caution: ReadonlySignal<string>;
  /** The caution has been read: it is not shown again in this practice. */
  readCaution(): void;
  /** The touches on the glass. */
  readonly contacts: Contacts;
  /** What is timed of sets with paced and easy parts. */
  readonly choices: TakingChoices;
  /** [CMD8] How many times wait for the server, in words. */
  readonly kept: ReadonlySignal<string>;
  /** What the pool's clock would show when a press made now takes effect. */
  readonly reading: ReadonlySignal<string>;
  /** Of held lanes: what it would show at the first send-off after they go on. */
  readonly resumeReading: ReadonlySignal<string>;
  readonly linkState: ReadonlySignal<{ readonly words: string; readonly warn: boolean }>;
  /** Presses cannot count now: no server, or one is on its way. */
  readonly locked: ReadonlySignal<boolean>;
  /** The pool instant of an event on this page. */
  pressedAt(event: Event): Instant;
  /** The pool instant of now, for a press that ends without an event. */
  pressedNow(): Instant;
  lane(lane: number): LaneRow | null;
  /** Null: the lanes are to be seen. */
  readonly panel: ReadonlySignal<OpenPanel | null>;
  show(panel: OpenPanel | null): void;
  /** [CMD7] The sets that can still be changed. */
  sets(): SetNow[];
  /** [CMD7] Who swims in a lane, and who could come into it. */
  swimmers(lane: LaneNumber): LaneSwimmerNow[];
  /** [CMD7] Sends a change of the practice. @param event the press it comes from */
  change(change: Change, event: Event): void;
  /** Reads the clock. */
  tick(): void;
}

export interface DeckParts {
  readonly link: Link;
  readonly contacts: Contacts;
  readonly choices: TakingChoices;
  /** This page's monotonic clock, ms. */
  pageNow(): number;
  readonly lines: LeadLines;
}

export function deckOver({ link, contacts, choices, pageNow, lines }: DeckParts): Deck {
  const at = signal(link.clock.now());
  const boundMs = signal(link.clock.boundMs());
  const presses = pressesOver(link);
  const board = computed(() => {
    const practice = link.practice.value;
    const face = link.settings.value;
    if (!practice) return idleBoard(at.value, face);
    return boardAt(practice.sheet, practice.run, at.value, { labels: practice.labels, face });
  });
  const undo = computed(() => {
    const run = link.practice.value?.run;
    return run ? undoOffer(run, at.value, link.times.departuresAt(at.value).length > 0) : '';
  });
  const recall = computed(() => {
    const run = link.practice.value?.run;
    return run ? mayRecall(run, at.value) : false;
  });
  effect(() => {
    const refused = link.times.refusal.value;
    if (refused) presses.tell(refused);
  });
  const panel = signal<OpenPanel | null>(null);
  effect(() => {
    const { phase } = board.value;
    const kind = panel.value?.kind;
    // Times are typed after the practice too.
    const isOver = phase === 'finished' && (kind === 'change' || kind === 'swimmers');
    if (phase === 'idle' || isOver) panel.value = null;
  });
  const pressedAt = (event: Event): Instant => link.clock.at(pressMoment(event, pageNow()));
  const times = laneTimesOver({ link, now: at, choices, tell: presses.tell });
  const laneHeats = computed(() => (link.practice.value ? laneHeatsAt(link.practice.value, at.value) : []));
  const heats = computed(() => heatsOf(laneHeats.value));
  const offer = steady(() => {
    const { sheet, run } = link.practice.value ?? {};
    const sinceGoMs = at.value - (run?.wentAt ?? Number.NEGATIVE_INFINITY);
    const releases = heats.value.flatMap((one) => releaseOf(one, sinceGoMs) ?? []);
    return offerFor(board.value, sheet, releases);
  });
  const readOf = signal<RunId | null>(null);
  return {
    link,
    presses,
    board,
    offer,
    undo,
    recall,
    times,
    lines,
    heats: steady(() => {
      const known = times.knownNow.value;
      return known ? heats.value.map((one) => ({ lanes: one.lanes, ...heatsWords(known, one, at.value) })) : [];
    }),
    heatPad: (lane) => {
      const known = times.knownNow.value;
      const own = laneHeats.value.find((one) => one.lane === lane);
      const together = heats.value.find(({ lanes }) => lanes.includes(lane));
      return known && own && together ? heatPad(known, own, together, at.value) : null;
    },
    caution: steady(() => {
      const practice = link.practice.value;
      return practice && readOf.value !== practice.run.id ? cautionAt(board.value, practice.sheet) : '';
    }),
    readCaution: () => {
      readOf.value = link.practice.peek()?.run.id ?? null;
    },
    contacts,
    choices,
    kept: computed(() => keptWords(link.state.value, link.times.waiting.value.length)),
    reading: computed(() => gridReading(at.value, link.settings.value, 0)),
    resumeReading: computed(() => gridReading(at.value, link.settings.value, leftToSendOff(board.value))),
    linkState: steady(() =>
      linkWords(link.state.value, boundMs.value, worstWallMs(link.screens.value), link.refusal.value),
    ),
    locked: computed(() => presses.busy.value || link.state.value !== 'live'),
    pressedAt,
    pressedNow: () => link.clock.at(pageNow()),
    lane: (number) => {
      const found = board.value.lanes.find(({ lane }) => lane === number);
      return found ? laneRow(found, board.value.phase) : null;
    },
    panel,
    show: (opened) => {
      panel.value = opened;
    },
    sets: () => (link.practice.value ? setsToChange(link.practice.value, board.value, at.value) : []),
    swimmers: (lane) => (link.practice.value ? whoSwims(link.practice.value, lane, at.value) : []),
    change: (change, event) => presses.runWide({ kind: 'change', change, pressedAt: pressedAt(event) }),
    tick: () => {
      at.value = link.clock.now();
      boundMs.value = link.clock.boundMs();
    },
  };
}
