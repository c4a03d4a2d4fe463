import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Target } from '../../shared-types/sheet.ts';
import {
  type GateStep,
  type RepStep,
  type RestStep,
  type Sheet,
  type SheetLane,
  targetsOf,
} from '../../shared-types/sheet.ts';

/** Reps of one set that everybody swims alike: one row of the sheet on paper and desk. */
export interface RepRow {
  readonly kind: 'rep';
  readonly first: RepStep;
  /** Every rep in it; in heats one step a swimmer and rep. */
  readonly steps: readonly RepStep[];
  readonly targets: ReadonlyMap<SwimmerId, Target>;
  /** The coach releases each rep (or heat). */
  readonly onGo: boolean;
  /** The lane waits for the coach afterwards, so that how long it takes is a guess. */
  readonly untilGo: boolean;
}

export type LaneRow = RepRow | { readonly kind: 'pause'; readonly step: RestStep | GateStep };

export interface SectionRows {
  readonly section: number;
  readonly rows: readonly LaneRow[];
}

interface OpenRow {
  readonly first: RepStep;
  readonly steps: RepStep[];
  readonly targets: Map<SwimmerId, Target>;
  onGo: boolean;
}

const sameSet = (a: RepStep, b: RepStep): boolean =>
  a.set === b.set && a.round === b.round && a.outerRound === b.outerRound && a.distance === b.distance;

const sameWork = (a: RepStep, b: RepStep): boolean =>
  a.stroke === b.stroke && a.effort === b.effort && a.timedMs === b.timedMs && a.start === b.start;

/** Heats fill a row swimmer by swimmer; otherwise the targets have to be the very same records. */
function fits(row: OpenRow, step: RepStep, targets: readonly Target[]): boolean {
  if (!sameSet(row.first, step) || !sameWork(row.first, step)) return false;
  return targets.every((target) => {
    const there = row.targets.get(target.swimmer);
    return there === undefined ? step.heat !== undefined : there === target;
  });
}

function openRow(step: RepStep, targets: readonly Target[]): OpenRow {
  return { first: step, steps: [step], targets: new Map(targets.map((t) => [t.swimmer, t])), onGo: false };
}

/** The lane's steps with like reps gathered: gates between the reps of one set go into its row. */
function rowsOf(sheet: Sheet, lane: SheetLane): LaneRow[] {
  const rows: LaneRow[] = [];
  let open: OpenRow | null = null;
  let gate: GateStep | null = null;
  const close = (): void => {
    if (open) rows.push({ kind: 'rep', ...open, untilGo: gate !== null });
    if (gate) rows.push({ kind: 'pause', step: gate });
    open = null;
    gate = null;
  };
  for (const step of lane.steps) {
    if (step.kind === 'rep') {
      const targets = targetsOf(sheet, step);
      const row: OpenRow | null = open;
      if (row && fits(row, step, targets)) {
        row.steps.push(step);
        for (const target of targets) row.targets.set(target.swimmer, target);
        row.onGo ||= gate !== null;
        gate = null;
      } else {
        close();
        open = openRow(step, targets);
      }
    } else if (step.kind === 'gate' && open && !gate) {
      gate = step;
    } else {
      close();
      rows.push({ kind: 'pause', step });
    }
  }
  close();
  return rows;
}

/** What a lane does, row by row under its sections, in the order of the practice. */
export function sectionsOf(sheet: Sheet, lane: SheetLane): SectionRows[] {
  const sections: { section: number; rows: LaneRow[] }[] = [];
  for (const row of rowsOf(sheet, lane)) {
    const section = row.kind === 'rep' ? row.first.section : row.step.section;
    const last = sections[sections.length - 1];
    if (last?.section === section) last.rows.push(row);
    else sections.push({ section, rows: [row] });
  }
  return sections;
}

/** `4 ×`, `2 of 4`, `1–3 of 4`; nothing for a rep by itself. */
export function repsText({ first, steps }: RepRow): string {
  if (first.reps === 1) return '';
  const reps = steps.map(({ rep }) => rep);
  const from = Math.min(...reps);
  const to = Math.max(...reps);
  if (to - from + 1 === first.reps) return `${first.reps} ×`;
  return from === to ? `${from} of ${first.reps}` : `${from}–${to} of ${first.reps}`;
}
