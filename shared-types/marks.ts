import { z } from 'zod';
import {
  type CommandId,
  commandIdSchema,
  type DeviceId,
  deviceIdSchema,
  type Instant,
  instantSchema,
  type LaneNumber,
  laneNumberSchema,
  type Ms,
  ms,
  runIdSchema,
  type SwimmerId,
  swimmerIdSchema,
} from './brand.ts';

/** [CMD5] Times taken on deck. They have a numbering of their own, apart from the control events. */

/** What a time was taken of. */
const ofWhat = {
  swimmer: swimmerIdSchema,
  /** The step's id. */
  step: z.string().min(1).max(64),
  /** The how-many-th time this swimmer left on this step, from 1: `back` repeats reps. */
  pass: z.number().int().min(1).max(1000),
  /** How far into the rep, in the course's unit; the whole rep's for a finish. */
  distance: z.number().positive().max(100_000),
};

/** Absent on all that were pressed, and on those from before times could be typed. */
const typed = z.literal(true).optional();

const base = {
  /** [CMD1] Made on the device; sent ten times it acts once. Of a `mark` or `miss` it is the mark's id ever after. */
  id: commandIdSchema,
  /** Where it was pressed; another page of the same device may be the one to send it. */
  device: deviceIdSchema,
  run: runIdSchema,
};

export const markCommandSchema = z.discriminatedUnion('kind', [
  /**
   * A time, at the synchronised instant of the press; of a time that was called out and typed, at the send-off plus that
   * time.
   */
  z.object({ ...base, kind: z.literal('mark'), ...ofWhat, pressedAt: instantSchema, typed }),
  /** The swimmer came unseen: there is no time, and none is waited for. A mark like others, to be repaired as they are. */
  z.object({ ...base, kind: z.literal('miss'), ...ofWhat, pressedAt: instantSchema }),
  /** The mark was of another swimmer, rep or distance; a void one counts again. */
  z.object({ ...base, kind: z.literal('assign'), mark: commandIdSchema, ...ofWhat }),
  /** The mark is not to count. */
  z.object({ ...base, kind: z.literal('void'), mark: commandIdSchema }),
  /** [CMD6] Takes back the newest `assign` or `void` of the mark that has not been taken back, at any time. */
  z.object({ ...base, kind: z.literal('restore'), mark: commandIdSchema }),
]);
export type MarkCommand = z.infer<typeof markCommandSchema>;

/** The mark a command makes or changes. */
export const markOf = (command: MarkCommand): CommandId => ('mark' in command ? command.mark : command.id);

/** So long after its press a mark is still stored, ms. */
export const MARK_WITHIN_MS = 12 * 60 * 60 * 1000;

const markPlaceSchema = z.object({
  ...ofWhat,
  /** Null when the swimmer is on no lane of the sheet. */
  lane: laneNumberSchema.nullable(),
  /** The swimmer's send-off, as it was known when the mark was placed; null when it fits none. */
  leftAt: instantSchema.nullable(),
});
/** What a mark was taken of, and from which send-off it counts. */
export type MarkPlace = z.infer<typeof markPlaceSchema>;

const eventBase = {
  run: runIdSchema,
  /** 1, 2, 3 … without a gap, of this run's mark events. */
  seq: z.number().int().min(1),
  /** The command it is the effect of; of what the server does by itself after a recall, the recall's. */
  command: commandIdSchema,
  device: deviceIdSchema,
  mark: commandIdSchema,
  decidedAt: instantSchema,
};

export const markEventSchema = z.discriminatedUnion('kind', [
  z.object({ ...eventBase, kind: z.literal('mark'), pressedAt: instantSchema, place: markPlaceSchema, typed }),
  z.object({ ...eventBase, kind: z.literal('miss'), pressedAt: instantSchema, place: markPlaceSchema }),
  z.object({ ...eventBase, kind: z.literal('assign'), place: markPlaceSchema }),
  z.object({
    ...eventBase,
    kind: z.literal('void'),
    /** The seq of the recall that took the mark's send-off back. */
    recall: z.number().int().min(1).optional(),
  }),
  /** Carries what the mark is again. */
  z.object({ ...eventBase, kind: z.literal('restore'), place: markPlaceSchema, isVoid: z.boolean() }),
]);
/** Something that happened to a mark, with its effect. */
export type MarkEvent = z.infer<typeof markEventSchema>;

/** How a mark stood after one of its events. */
interface Standing {
  readonly place: MarkPlace;
  /** The event that put it there: of two marks of the same thing the one that was there first counts. */
  readonly placedSeq: number;
  readonly isVoid: boolean;
}

export interface MarkEntry extends Standing {
  readonly id: CommandId;
  readonly device: DeviceId;
  readonly pressedAt: Instant;
  /** It was called out and typed, not pressed. */
  readonly typed?: true;
  /** That somebody was missed: no time. */
  readonly missed?: true;
  /** How it stood before each repair that has not been taken back, the newest last. */
  readonly before: readonly Standing[];
}

/** All marks of a run, in the order in which they were stored. */
export interface MarkBook {
  /** Of the last event folded. */
  readonly seq: number;
  readonly entries: ReadonlyMap<CommandId, MarkEntry>;
}

export const NO_MARKS: MarkBook = { seq: 0, entries: new Map() };

/**
 * The book with these events more. Events folded already change nothing.
 * @throws RangeError when an event is missing in between, or its mark: that is a bug
 */
export function foldMarks(book: MarkBook, events: readonly MarkEvent[]): MarkBook {
  const entries = new Map(book.entries);
  let { seq } = book;
  for (const event of events) {
    if (event.seq <= seq) continue;
    if (event.seq !== seq + 1) throw new RangeError(`mark event ${event.seq} folded after ${seq}`);
    entries.set(event.mark, entryAfter(entries.get(event.mark), event));
    seq = event.seq;
  }
  return { seq, entries };
}

function entryAfter(known: MarkEntry | undefined, event: MarkEvent): MarkEntry {
  if (event.kind === 'mark' || event.kind === 'miss') {
    const { mark: id, device, pressedAt, place, seq } = event;
    const wasTyped = event.kind === 'mark' && event.typed ? { typed: event.typed } : {};
    const wasMissed = event.kind === 'miss' ? { missed: true as const } : {};
    return { id, device, pressedAt, ...wasTyped, ...wasMissed, place, placedSeq: seq, isVoid: false, before: [] };
  }
  if (!known) throw new RangeError(`mark event ${event.seq} is of a mark that is not there`);
  const { place, placedSeq, isVoid } = known;
  const before = [...known.before, { place, placedSeq, isVoid }];
  switch (event.kind) {
    case 'assign':
      return { ...known, place: event.place, placedSeq: event.seq, isVoid: false, before };
    case 'void':
      return { ...known, isVoid: true, before };
    case 'restore': {
      const again = known.before[known.before.length - 1] ?? known;
      const { place, isVoid } = event;
      return { ...known, place, isVoid, placedSeq: again.placedSeq, before: known.before.slice(0, -1) };
    }
  }
}

export const markStateSchema = z.enum(['counts', 'unplaced', 'void', 'second', 'missed']);
/**
 * counts: it is the swimmer's time; unplaced: it fits no send-off; void: taken back; second: another mark of the same
 * swimmer, rep, pass and distance was there first; missed: no time, the swimmer came unseen.
 */
export type MarkState = z.infer<typeof markStateSchema>;

export interface Mark {
  readonly id: CommandId;
  readonly swimmer: SwimmerId;
  readonly lane: LaneNumber | null;
  readonly step: string;
  readonly pass: number;
  readonly distance: number;
  readonly pressedAt: Instant;
  readonly leftAt: Instant | null;
  /** From the send-off to the press; null when unplaced or missed. */
  readonly ms: Ms | null;
  readonly device: DeviceId;
  /** It was called out and typed, not pressed. */
  readonly typed?: true;
  readonly state: MarkState;
}

/** What two marks share that are of the same thing. */
const thingOf = ({ swimmer, step, pass, distance }: MarkPlace): string => `${swimmer} ${step} ${pass} ${distance}`;

/** The run's marks with what each counts for, in the order in which they were stored. */
export function marksOf({ entries }: MarkBook): Mark[] {
  const first = new Map<string, number>();
  for (const { place, placedSeq, isVoid, missed } of entries.values()) {
    if (isVoid || missed || place.leftAt === null) continue;
    const thing = thingOf(place);
    first.set(thing, Math.min(placedSeq, first.get(thing) ?? placedSeq));
  }
  const stateOf = ({ place, placedSeq, isVoid, missed }: MarkEntry): MarkState => {
    if (isVoid) return 'void';
    if (missed) return 'missed';
    if (place.leftAt === null) return 'unplaced';
    return first.get(thingOf(place)) === placedSeq ? 'counts' : 'second';
  };
  return [...entries.values()].map((entry) => {
    const { id, device, pressedAt, place, typed: wasTyped, missed } = entry;
    const lasted = missed || place.leftAt === null ? null : ms(pressedAt - place.leftAt);
    return {
      id,
      ...place,
      pressedAt,
      ms: lasted,
      device,
      ...(wasTyped ? { typed: wasTyped } : {}),
      state: stateOf(entry),
    };
  });
}
