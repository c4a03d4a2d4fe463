import type { Course } from '../../../shared-types/pool.ts';
import type { RaceStroke, Swimmer } from '../../../shared-types/squad.ts';
import { CONVERSION_TABLES, type ConversionRow, type ConversionTable } from './conversion-tables.ts';

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

/** The factor of a step for one race. */
interface Factor extends Step {
  readonly row: ConversionRow;
}

/** How times of another course become times of this one. */
export interface Conversion {
  readonly from: CourseRace;
  /** In the order in which they are applied. */
  readonly factors: readonly Factor[];
}

/** Cuts milliseconds off below a hundredth, as the tables ask: 100.44822 s is 1:40.44. */
const cutOff = (ms: number): number => Math.floor(ms / 10) * 10;

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
  if (steps.length === 0) return null;
  const factors: Factor[] = [];
  let { distance } = to;
  for (const { table, back } of steps.reverse()) {
    const row = table.rows.find((one) => one.stroke === to.stroke && (back ? one.from : one.to) === distance);
    if (!row) return null;
    factors.unshift({ table, back, row });
    distance = back ? row.to : row.from;
  }
  return { from: { stroke: to.stroke, distance, course }, factors };
}

/** Whether the factors are another for women and men. */
export const needsCategory = ({ factors }: Conversion): boolean => factors.some(({ table }) => table.byCategory);

/** `the published factors of 2023-24, then back by 2021-22` */
export const conversionText = ({ factors }: Conversion): string =>
  `the published factors of ${factors.map(({ table, back }) => `${back ? 'back by ' : ''}${table.season}`).join(', then ')}`;

/**
 * A time of `conversion.from` as a time of the other course: seconds × factor (÷ factor on the way back), digits below
 * 0.01 s dropped at each step, not rounded. Source: the published collegiate factors named in the tables.
 * @param timeMs a race time, ms
 * @param category absent for factors that are the same for all
 */
export const convertTime = ({ factors }: Conversion, timeMs: number, category: Category): number =>
  factors.reduce((time, { row, back }) => {
    const factor = category === 'men' ? row.men : row.women;
    return cutOff(back ? (time * 1000) / factor : (time * factor) / 1000);
  }, timeMs);
