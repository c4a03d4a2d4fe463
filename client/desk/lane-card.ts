import { instant } from '../../shared-types/brand.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { clockReading } from '../../shared-types/time.ts';
import { type LaneRow, type RepRow, repsText, type SectionRows, sectionsOf } from './lane-rows.ts';
import { detailWords, everyWords, pauseWords, roundWords, shownSplits, swimWords } from './sheet-words.ts';

/** A row of a lane's card: reps that everybody of the lane swims alike, or a pause. */
export interface CardRow {
  readonly id: string;
  readonly what: string;
  /** `1:10`, `on go`; empty for a pause. */
  readonly every: string;
  /** Where the pace clock stands when the first swimmer leaves, rep by rep: `:00 :10 :20`; empty where nobody knows. */
  readonly readings: string;
  /** What each swimmer has to hold, in the lane's order; empty for a pause. */
  readonly targets: readonly string[];
}

export interface CardSection {
  readonly name: string;
  readonly rows: readonly CardRow[];
}

/** So many readings tell a lane how it goes on. */
const MOST_READINGS = 12;

/**
 * What a lane takes to the pool on paper. Clock readings are for a clock that stands at :00 when the lane is set off, and
 * again at each go of the coach.
 */
export function cardOf(sheet: Sheet, lane: SheetLane): CardSection[] {
  const gates = lane.steps.flatMap((step) => (step.kind === 'gate' ? [step.atMs + step.durationMs] : []));
  const sinceGo = (atMs: number): number => atMs - Math.max(0, ...gates.filter((gate) => gate <= atMs));
  return sectionsOf(sheet, lane).map(({ section, rows }: SectionRows) => ({
    name: sheet.sections[section]?.name ?? '',
    rows: rows.map((row) => cardRow(sheet, lane, row, sinceGo)),
  }));
}

function cardRow(sheet: Sheet, lane: SheetLane, row: LaneRow, sinceGo: (atMs: number) => number): CardRow {
  if (row.kind === 'pause') {
    return { id: row.step.id, what: pauseWords(row.step), every: '', readings: '', targets: [] };
  }
  const { first } = row;
  const words = [repsText(row), swimWords(sheet, first), detailWords(sheet, first)].filter(Boolean).join(' ');
  const round = roundWords(first);
  return {
    id: first.id,
    what: round === '' ? words : `${words} (${round})`,
    every: everyWords(row),
    readings: readingsOf(row, sinceGo),
    targets: lane.swimmers.map((swimmer) => targetText(row, swimmer)),
  };
}

/** Each reading once, in the order in which they come; of reps that the coach releases only the first. */
function readingsOf({ steps, onGo, first }: RepRow, sinceGo: (atMs: number) => number): string {
  const reading = ({ atMs }: RepStep): string => clockReading(instant(sinceGo(atMs)), 0);
  if (onGo || first.heat !== undefined) return '';
  const readings = [...new Set(steps.map(reading))];
  const shown = readings.slice(0, MOST_READINGS).join(' ');
  return readings.length > MOST_READINGS ? `${shown} …` : shown;
}

/** `29.5`, on the way and at the end `29.5 1:01.0`; empty where there is nothing to hold. */
function targetText({ targets }: RepRow, swimmer: SheetLane['swimmers'][number]): string {
  const target = targets.get(swimmer);
  if (!target) return '';
  const splits = shownSplits(target).map(({ text }) => text);
  return splits.length === 0 ? '' : `${target.estimated ? '≈ ' : ''}${splits.join(' ')}`;
}
