import { planPractice } from '../../server/planning/plan.ts';
import { laneNumber, ms, swimmerIdSchema } from '../../shared-types/brand.ts';
import { DEFAULT_POOL, type Pool } from '../../shared-types/pool.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { Reference, Squad, Swimmer } from '../../shared-types/squad.ts';

/** Practices and squads made by code, so that their size is known. All names and times are invented. */

/** How many reps every lane swims in one block, and how long that takes pace group A, ms: six blocks are two hours. */
export const BLOCK_REPS = 25;
const BLOCK = `6 x 25 kick @ :40/:40/:45
8 x 50 free @ :45/:50/:50 at 200 pace
2 rounds, :30 between:
  3 x 75 free @ 1:00/1:05/1:10 (25 at 200 pace, 50 easy)
  50 choice easy @ 1:00
3 x 25 fly @ :30 from 85% to 100% of 200 pace by rep
`;

/** @param reps reps of every lane, a multiple of {@link BLOCK_REPS} */
export function practiceOf(reps: number): string {
  if (reps % BLOCK_REPS !== 0) throw new RangeError(`${reps} reps are not whole blocks of ${BLOCK_REPS}`);
  const blocks = Array.from({ length: reps / BLOCK_REPS }, (_, place) => `Block number ${place + 1}\n${BLOCK}`);
  return `# ${reps} reps a lane\n\n${blocks.join('\n')}`;
}

const bestOf = (distance: number, stroke: 'free' | 'fly', timeMs: number): Reference => ({
  event: { distance, stroke, activity: 'swim' },
  course: 'SCM',
  timeMs: ms(Math.round(timeMs / 10) * 10),
  kind: 'best',
});

const GROUPS = ['A', 'B', 'C'] as const;

/** Swimmer `place` of `lane`, both from 0: each half a second slower over 200 than the one before. */
function swimmerAt(lane: number, place: number, lanes: number, number: number): Swimmer {
  const over200 = 115_000 + number * 500;
  return {
    id: swimmerIdSchema.parse((number + 1).toString(16).padStart(32, '0')),
    name: `Swimmer ${number + 1}`,
    lane: laneNumber(lane + 1),
    order: place + 1,
    group: GROUPS[Math.floor((lane * GROUPS.length) / lanes)] ?? 'A',
    references: [bestOf(200, 'free', over200), bestOf(100, 'free', over200 * 0.46), bestOf(200, 'fly', over200 * 1.12)],
  };
}

export interface Size {
  readonly reps: number;
  readonly lanes: number;
  readonly swimmersPerLane: number;
}

export const squadOf = ({ lanes, swimmersPerLane }: Omit<Size, 'reps'>): Squad => ({
  swimmers: Array.from({ length: lanes * swimmersPerLane }, (_, number) =>
    swimmerAt(Math.floor(number / swimmersPerLane), number % swimmersPerLane, lanes, number),
  ),
});

export const poolOf = ({ lanes }: Pick<Size, 'lanes'>): Pool => ({ ...DEFAULT_POOL, lanes });

/** 150 reps a lane, 10 lanes, 60 swimmers. */
export const TWO_HOURS: Size = { reps: 150, lanes: 10, swimmersPerLane: 6 };

/** The sheet of a practice of this size. @throws Error when it has none */
export function sheetOf(size: Size): Sheet {
  const { sheet, messages } = planPractice(practiceOf(size.reps), squadOf(size), poolOf(size));
  if (!sheet) throw new Error(messages.map(({ text }) => text).join('\n'));
  return sheet;
}

/** As large a practice as is read at all, all of it set lines. */
export function fullText(): string {
  const line = '8 x 50 free @ 1:10/1:15/1:20 at 200 pace (25 max, 25 easy), :10 apart with fins -- hold the number ';
  const length = Math.floor(LIMITS.bytes / LIMITS.lines) - 1;
  const filled = `${line}${'all the way to the wall '.repeat(length)}`.slice(0, length);
  return Array<string>(LIMITS.lines).fill(filled).join('\n');
}
