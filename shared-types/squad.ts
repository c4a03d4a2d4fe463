import { z } from 'zod';
import { laneNumberSchema, msSchema, swimmerIdSchema } from './brand.ts';
import { nameSchema } from './plain-name.ts';
import { courseSchema, referenceKindSchema } from './pool.ts';
import { formatSwimTime } from './time.ts';

export const STROKES = ['free', 'back', 'breast', 'fly', 'IM'] as const;
export const raceStrokeSchema = z.enum(STROKES);
/** A stroke that races are swum in. */
export type RaceStroke = z.infer<typeof raceStrokeSchema>;

/** The strokes of a medley in the order in which they are swum. */
export const MEDLEY_ORDER: readonly RaceStroke[] = ['fly', 'back', 'breast', 'free'];

export const ACTIVITIES = ['swim', 'kick', 'pull', 'drill'] as const;
export const activitySchema = z.enum(ACTIVITIES);
export type Activity = z.infer<typeof activitySchema>;

export const eventSchema = z.object({
  distance: z.number().int().positive(),
  stroke: raceStrokeSchema,
  activity: activitySchema,
});
/** A race or a test distance, e.g. 200 free or 100 free kick. */
export type Event = z.infer<typeof eventSchema>;

export const referenceSchema = z.object({
  event: eventSchema,
  course: courseSchema,
  /** Whole time. */
  timeMs: msSchema,
  kind: referenceKindSchema,
  /** ISO date, YYYY-MM-DD. */
  date: z.iso.date().optional(),
  /** Split at half the distance. */
  halfMs: msSchema.optional(),
  /** Times of equal shares of the distance, in order; they add up to the whole time. */
  splitsMs: z.array(msSchema).min(2).max(60).optional(),
  /** How it began; absent: not said, and of a swim then taken to be from a dive, as races are. */
  start: z.enum(['push', 'dive']).optional(),
  /** It was taken by hand in a practice: taken over from results. */
  handTimed: z.literal(true).optional(),
});
/** A time a swimmer has swum, or wants to, that targets are worked out from. */
export type Reference = z.infer<typeof referenceSchema>;

export const setMeanSchema = z.object({
  /** What was swum, in words without send-off: `12 × 50 free swim, push, SCM`. */
  set: z.string().max(200),
  /** `@ 1:30`, `rest :20`, `on go`. */
  sendOff: z.string().max(40),
  /** Mean time of its reps. */
  meanMs: msSchema,
  /** ISO date, YYYY-MM-DD. */
  date: z.iso.date().optional(),
  /** Its reps were timed by hand in a practice: taken over from results. */
  handTimed: z.literal(true).optional(),
});
/** The mean of a set a swimmer has swum before: what a best average is held against. */
export type SetMean = z.infer<typeof setMeanSchema>;

/** Letters at most, UTF-16 code units. */
export const LONGEST_NAME = 60;
export const LONGEST_SHORT = 20;

/** Of one swimmer: more than a career. */
export const MOST_TIMES = 1000;
export const MOST_MEANS = 500;

export const swimmerSchema = z.object({
  id: swimmerIdSchema,
  name: nameSchema(LONGEST_NAME),
  /** What walls and decks call the swimmer; absent: the first name, with as much more as tells it from others. */
  short: nameSchema(LONGEST_SHORT).optional(),
  /** Absent: not on the sheet. */
  lane: laneNumberSchema.optional(),
  /** Place in the lane, 1 leaves first. */
  order: z.number().int().min(1).optional(),
  /** Pace group, one letter; A is the fastest. */
  group: z
    .string()
    .regex(/^[A-Z]$/)
    .optional(),
  category: z.enum(['women', 'men']).optional(),
  /** The swimmer's main event, what `own` means. */
  main: eventSchema.optional(),
  references: z.array(referenceSchema).max(MOST_TIMES),
  /** Means of earlier sets. */
  means: z.array(setMeanSchema).max(MOST_MEANS).optional(),
});
export type Swimmer = z.infer<typeof swimmerSchema>;

export const MOST_SWIMMERS = 500;
export const squadSchema = z.object({ swimmers: z.array(swimmerSchema).max(MOST_SWIMMERS) });
export type Squad = z.infer<typeof squadSchema>;

const STROKE_WORDS: Readonly<Record<string, RaceStroke>> = {
  free: 'free',
  freestyle: 'free',
  fr: 'free',
  back: 'back',
  backstroke: 'back',
  bk: 'back',
  breast: 'breast',
  breaststroke: 'breast',
  br: 'breast',
  fly: 'fly',
  butterfly: 'fly',
  fl: 'fly',
  im: 'IM',
};

/** The stroke a word names, or null. Case does not matter. */
export const strokeOf = (word: string): RaceStroke | null => STROKE_WORDS[word.toLowerCase()] ?? null;

/** Reads `200 free`, `100 free kick`. @returns null when the text is not an event */
export function parseEvent(text: string): Event | null {
  const match = /^(\d{2,4})\s*(?:m|yd)?\s+([a-z]+)(?:\s+(swim|kick|pull|drill))?$/i.exec(text.trim());
  const stroke = strokeOf(match?.[2] ?? '');
  if (!match || !stroke) return null;
  const activity = activitySchema.parse((match[3] ?? 'swim').toLowerCase());
  return { distance: Number(match[1]), stroke, activity };
}

/** `free`, `free kick`: an event but for its distance. */
export const strokeText = ({ stroke, activity }: Omit<Event, 'distance'>): string =>
  activity === 'swim' ? stroke : `${stroke} ${activity}`;

/** `200 free`, `100 free kick`. */
export const eventText = (event: Event): string => `${event.distance} ${strokeText(event)}`;

/** How a time was taken, where there is more to say than that it was swum: `from a push`, `by hand`. */
export const howTaken = ({ event, start, handTimed }: Reference): string[] => [
  ...(start === 'push' && event.activity === 'swim' ? ['from a push'] : []),
  ...(handTimed ? ['by hand'] : []),
];

/** `1:58.40`; of a time taken by hand the tenths, for no more is in it: `1:58.4`. */
export const referenceTime = ({ timeMs, handTimed }: Reference): string => formatSwimTime(timeMs, handTimed ? 1 : 2);
