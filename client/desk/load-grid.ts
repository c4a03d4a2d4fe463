import type { SwimmerId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { JudgedRep, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { loadText } from './load-fields.ts';
import { nameOf } from './names.ts';

/** The table in which a set's loads are written down. Pure. */

export interface LoadCell {
  readonly swimmer: SwimmerId;
  readonly step: string;
  /** The rep's number, which is its column. */
  readonly rep: number;
  /** `Ada Vance, rep 3` */
  readonly name: string;
  /** As the server has it; empty: as the practice says. */
  readonly kept: string;
}

export interface LoadRow {
  readonly swimmer: SwimmerId;
  readonly name: string;
  readonly cells: readonly LoadCell[];
}

const keptOf = (loads: readonly RepLoad[], step: string): string => {
  const known = loads.find((one) => one.step === step);
  return known ? loadText(known.load) : '';
};

/** Reps that were never left on have no load to write; one that was written all the same can be seen and mended. */
function cellsOf({ swimmer, reps, loads = [] }: ShownSwimmer, name: string): LoadCell[] {
  return reps.flatMap(({ rep, step, missing }: JudgedRep): LoadCell[] => {
    const kept = keptOf(loads, step);
    return missing === 'not swum' && kept === ''
      ? []
      : [{ swimmer, step, rep, name: `${isolated(name)}, rep ${rep}`, kept }];
  });
}

/** Those who swam, by lane and order. */
export function loadRows({ swimmers }: Pick<ShownSet, 'swimmers'>, labels: Labels): LoadRow[] {
  return swimmers.flatMap((own): LoadRow[] => {
    const name = nameOf(labels, own.swimmer);
    const cells = cellsOf(own, name);
    return cells.length > 0 ? [{ swimmer: own.swimmer, name, cells }] : [];
  });
}

/** The numbers of the reps that anybody swam. */
export const columnsOf = (rows: readonly LoadRow[]): number[] =>
  [...new Set(rows.flatMap(({ cells }) => cells.map(({ rep }) => rep)))].sort((a, b) => a - b);

/** The same swimmer's reps after this one. */
export const after = (rows: readonly LoadRow[], { swimmer, rep }: LoadCell): LoadCell[] =>
  rows.flatMap(({ cells }) => cells.filter((one) => one.swimmer === swimmer && one.rep > rep));

/** The same rep of the swimmers below. */
export function below(rows: readonly LoadRow[], { swimmer, rep }: LoadCell): LoadCell[] {
  const place = rows.findIndex((row) => row.swimmer === swimmer);
  return rows.slice(place + 1).flatMap(({ cells }) => cells.filter((one) => one.rep === rep));
}

/** Down the column, and then at the top of the next one; null at the end. */
export function nextDown(rows: readonly LoadRow[], cell: LoadCell): LoadCell | null {
  const inColumns = columnsOf(rows).flatMap((rep) =>
    rows.flatMap(({ cells }) => cells.filter((one) => one.rep === rep)),
  );
  const place = inColumns.findIndex((one) => one.swimmer === cell.swimmer && one.step === cell.step);
  return inColumns[place + 1] ?? null;
}
