import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { RunId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import type { Pulled } from '../../shared-types/wire/results.ts';
import type { DeskServer } from './desk-server.ts';
import { isProblem, readLoad } from './load-fields.ts';
import type { LoadCell, LoadRow } from './load-grid.ts';
import { type Problem, problemOf } from './problem.ts';
import type { ResultsModel } from './results-model.ts';

/** A set of a run whose loads are written down. */
export interface LoadedSet {
  readonly run: RunId;
  readonly set: number;
  readonly against: Pulled['against'];
}

/** What went wrong, and at which cell where it is one. */
interface LoadProblem extends Problem {
  readonly run: RunId;
  readonly set: number;
  readonly cell?: string;
}

/** Loads on their way to the server. What was typed stays until it is kept, through whatever is shown meanwhile. */
export interface LoadsModel {
  readonly problem: ReadonlySignal<LoadProblem | null>;
  readonly busy: ReadonlySignal<boolean>;
  /** What stands in a cell: as typed, else as the server has it. */
  textIn(of: LoadedSet, cell: LoadCell): string;
  hasTyped(of: LoadedSet, rows: readonly LoadRow[]): boolean;
  type(of: LoadedSet, cells: readonly LoadCell[], text: string): void;
  /** Sends the rows in which something was typed; nothing with one cell that cannot be read. */
  keep(of: LoadedSet, rows: readonly LoadRow[]): Promise<void>;
}

interface ReadyRow {
  readonly row: LoadRow;
  readonly loads: RepLoad[];
}

/** Among all cells there are. */
export const cellKey = ({ run, set }: LoadedSet, { swimmer, step }: LoadCell): string =>
  `${run} ${set} ${swimmer} ${step}`;

export function createLoads(
  server: Pick<DeskServer, 'keepLoads'>,
  results: Pick<ResultsModel, 'askAgain'>,
): LoadsModel {
  const typed = signal<ReadonlyMap<string, string>>(new Map());
  const problem = signal<LoadProblem | null>(null);
  const busy = signal(false);
  const isTyped = (of: LoadedSet, cell: LoadCell): boolean => typed.value.has(cellKey(of, cell));
  const textIn: LoadsModel['textIn'] = (of, cell) => typed.value.get(cellKey(of, cell)) ?? cell.kept;
  const changedIn = (of: LoadedSet, rows: readonly LoadRow[]): LoadRow[] =>
    rows.filter(({ cells }) => cells.some((cell) => isTyped(of, cell)));

  /** The loads of a row; null when one cannot be read, which is then said. */
  function read(of: LoadedSet, { cells }: LoadRow): RepLoad[] | null {
    const loads: RepLoad[] = [];
    for (const cell of cells) {
      const load = readLoad(textIn(of, cell), of.against);
      if (isProblem(load)) {
        const message = `${cell.name}: ${load.message}`;
        problem.value = { ...load, message, run: of.run, set: of.set, cell: cellKey(of, cell) };
        return null;
      }
      if (load) loads.push({ step: cell.step, load });
    }
    return loads;
  }

  /** Null when one cannot be read. */
  function readAll(of: LoadedSet, rows: readonly LoadRow[]): ReadyRow[] | null {
    const ready: ReadyRow[] = [];
    for (const row of rows) {
      const loads = read(of, row);
      if (!loads) return null;
      ready.push({ row, loads });
    }
    return ready;
  }

  async function send({ run, set }: LoadedSet, { swimmer, name }: LoadRow, loads: RepLoad[]): Promise<boolean> {
    const answer = await server.keepLoads(run, set, swimmer, loads);
    if (answer.ok) return true;
    const { message, ...fix } = problemOf(answer);
    problem.value = { message: `${isolated(name)}: ${message}`, ...fix, run, set };
    return false;
  }

  /** Row by row until one is refused. @returns what stood in the cells of those that were taken */
  async function sendAll(of: LoadedSet, ready: readonly ReadyRow[]): Promise<Map<string, string>> {
    const sent = new Map<string, string>();
    for (const { row, loads } of ready) {
      const texts = row.cells.map((cell): [string, string] => [cellKey(of, cell), textIn(of, cell)]);
      if (!(await send(of, row, loads))) break;
      for (const [key, text] of texts) sent.set(key, text);
    }
    return sent;
  }

  /** Those that were sent, unless something else was typed there since. */
  function forget(sent: ReadonlyMap<string, string>): void {
    typed.value = new Map([...typed.value].filter(([key, text]) => sent.get(key) !== text));
  }

  return {
    problem,
    busy,
    textIn,
    hasTyped: (of, rows) => changedIn(of, rows).length > 0,
    type: (of, cells, text) => {
      const next = new Map(typed.value);
      for (const cell of cells) {
        // What is again as the server has it is not typed.
        if (text.trim() === cell.kept) next.delete(cellKey(of, cell));
        else next.set(cellKey(of, cell), text);
      }
      batch(() => {
        typed.value = next;
        problem.value = null;
      });
    },
    keep: async (of, rows) => {
      problem.value = null;
      const ready = readAll(of, changedIn(of, rows));
      if (!ready) return;
      busy.value = true;
      const sent = await sendAll(of, ready);
      await results.askAgain();
      batch(() => {
        forget(sent);
        busy.value = false;
      });
    },
  };
}
