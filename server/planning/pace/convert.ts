import type { Course } from '../../../shared-types/pool.ts';
import type { RaceStroke, Swimmer } from '../../../shared-types/squad.ts';
import { CONVERSION_TABLES, type ConversionTable } from './conversion-tables.ts';

type Category = Swimmer['category'];

/** A race over its distance in its course. */
export interface CourseRace {
  readonly stroke: RaceStroke;
  readonly distance: number;
  readonly course: Course;
}

/** One step of a conversion: by a table's factor, or back by it. */
interface Step {
  readonly table: ConversionTable;
  readonly back: boolean;
}

/** How times of another course become times of this one. */
export interface Conversion {
  readonly from: CourseRace;
  readonly steps: readonly Step[];
}

/** Cuts milliseconds off below a hundredth, as the tables ask: 100.44822 s is 1:40.44. */
const cutOff = (ms: number): number => Math.floor(ms / 10) * 10;

/** The distance the other way along a step; null where the table has no such race. */
function distanceBefore({ table, back }: Step, stroke: RaceStroke, distance: number): number | null {
  const row = table.rows.find((row) => row.stroke === stroke && (back ? row.from : row.to) === distance);
  return row ? (back ? row.to : row.from) : null;
}

/** Both tables lead to yards: between the metre courses a time goes through them. */
function stepsBetween(from: Course, to: Course): Step[] {
  const table = (course: Course): ConversionTable[] => CONVERSION_TABLES.filter((one) => one.from === course);
  const there = table(from).map((table) => ({ table, back: false }));
  const back = table(to).map((table) => ({ table, back: true }));
  return [...there, ...back];
}

/** The race of another course whose times become those of `to`; null where no table has it. */
export function conversionFrom(course: Course, to: CourseRace): Conversion | null {
  const steps = stepsBetween(course, to.course);
  let distance: number | null = to.distance;
  for (const step of [...steps].reverse()) {
    distance = distance === null ? null : distanceBefore(step, to.stroke, distance);
  }
  if (distance === null || steps.length === 0) return null;
  return { from: { stroke: to.stroke, distance, course }, steps };
}

/** Whether the factors are another for women and men. */
export const needsCategory = ({ steps }: Conversion): boolean => steps.some(({ table }) => table.byCategory);

/** `the published factors of 2023-24 and, back, of 2021-22` */
export const conversionText = ({ steps }: Conversion): string =>
  `the published factors of ${steps.map(({ table, back }) => `${back ? 'back by ' : ''}${table.season}`).join(', then ')}`;

/**
 * A time of `conversion.from` as a time of the other course: seconds × factor (÷ factor on the way back), digits below
 * 0.01 s dropped at each step, not rounded. Source: the published collegiate factors named in the tables.
 * @param timeMs a race time, ms
 * @param category null for factors that are the same for all
 */
export function convertTime(conversion: Conversion, timeMs: number, category: Category): number {
  let distance = conversion.from.distance;
  let time = timeMs;
  for (const { table, back } of conversion.steps) {
    const row = table.rows.find(
      ({ stroke, from, to }) => stroke === conversion.from.stroke && (back ? to : from) === distance,
    );
    if (!row) throw new RangeError(`no factor for ${distance} ${conversion.from.stroke} from ${table.from}`);
    const factor = category === 'men' ? row.men : row.women;
    time = cutOff(back ? (time * 1000) / factor : (time * factor) / 1000);
    distance = back ? row.from : row.to;
  }
  return time;
}
