import { type Signal, useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId, useRef } from 'preact/hooks';
import type { RunId } from '../../shared-types/brand.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { Pulled, ShownSet } from '../../shared-types/wire/results.ts';
import type { Desk } from './desk.ts';
import { isMac } from './key-strokes.ts';
import { type DeskKey, isKey, LOAD_KEYS } from './keys.ts';
import { KeyHint } from './keys-dialog.tsx';
import { loadText, rigWords } from './load-fields.ts';
import { after, below, columnsOf, type LoadCell, type LoadRow, loadRows, nextDown } from './load-grid.ts';
import { cellKey, type LoadedSet, type LoadsModel } from './loads-model.ts';
import { ProblemNote } from './problem-note.tsx';

interface EntryParts {
  readonly loads: LoadsModel;
  readonly of: LoadedSet;
  readonly rows: readonly LoadRow[];
  /** The cell that was last written in: what the others can be made the same as. */
  readonly at: Signal<LoadCell | null>;
  readonly goTo: (cell: LoadCell) => void;
}

/** Copies what stands in a cell into others, and comes back to it. */
function copy({ loads, of, goTo }: EntryParts, from: LoadCell, to: readonly LoadCell[]): void {
  loads.type(of, to, loads.textIn(of, from));
  goTo(from);
}

function onKey(parts: EntryParts, cell: LoadCell, event: KeyboardEvent): void {
  const { rows, goTo } = parts;
  const is = (key: DeskKey): boolean => isKey(key, event, isMac());
  if (is(LOAD_KEYS.after)) copy(parts, cell, after(rows, cell));
  else if (is(LOAD_KEYS.below)) copy(parts, cell, below(rows, cell));
  else if (is(LOAD_KEYS.down)) goTo(nextDown(rows, cell) ?? cell);
  else return;
  event.preventDefault();
}

interface CellProps {
  readonly parts: EntryParts;
  readonly cell: LoadCell | undefined;
  /** What it is where nothing is written. */
  readonly said: string;
}

function Cell({ parts, cell, said }: CellProps): JSX.Element {
  if (!cell) return <td class="none" />;
  const { loads, of, at } = parts;
  const isWrong = loads.problem.value?.cell === cellKey(of, cell);
  return (
    <td>
      <input
        size={7}
        aria-label={cell.name}
        aria-invalid={isWrong}
        data-load={cellKey(of, cell)}
        placeholder={said}
        value={loads.textIn(of, cell)}
        onFocus={() => {
          at.value = cell;
        }}
        onInput={({ currentTarget }) => loads.type(of, [cell], currentTarget.value)}
        onKeyDown={(event) => onKey(parts, cell, event)}
      />
    </td>
  );
}

function Table({ parts, said }: { parts: EntryParts; said: string }): JSX.Element {
  const { rows } = parts;
  const columns = columnsOf(rows);
  return (
    <div class="table-frame">
      <table class="loads-table">
        <thead>
          <tr>
            <th scope="col">Swimmer</th>
            {columns.map((rep) => (
              <th key={rep} scope="col">
                <span class="visually-hidden">rep </span>
                {rep}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ swimmer, name, cells }) => (
            <tr key={swimmer}>
              <th scope="row">
                <bdi>{name}</bdi>
              </th>
              {columns.map((rep) => (
                <Cell key={rep} parts={parts} cell={cells.find((one) => one.rep === rep)} said={said} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Actions({ parts }: { parts: EntryParts }): JSX.Element {
  const { loads, of, rows, at } = parts;
  const cell = at.value;
  const fill = (cells: (rows: readonly LoadRow[], cell: LoadCell) => LoadCell[]): void => {
    if (cell) copy(parts, cell, cells(rows, cell));
  };
  return (
    <div class="actions">
      <button type="button" data-action="load-after" disabled={!cell} onClick={() => fill(after)}>
        Same for the reps after <KeyHint of={LOAD_KEYS.after} />
      </button>
      <button type="button" data-action="load-below" disabled={!cell} onClick={() => fill(below)}>
        Same for those below <KeyHint of={LOAD_KEYS.below} />
      </button>
      <button
        type="submit"
        class="strong"
        data-action="keep-loads"
        disabled={loads.busy.value || !loads.hasTyped(of, rows)}
      >
        Keep these loads
      </button>
    </div>
  );
}

const saidWords = ({ saidKg }: Pulled): string => (saidKg === undefined ? 'not said' : loadText({ kg: saidKg }));

function help(pulled: Pulled): string {
  if (pulled.against === 'other') {
    return 'The force of the cord or parachute in newtons, like 60 N, where it was measured. Enter goes down.';
  }
  const said = pulled.saidKg === undefined ? 'The practice says none' : `Left empty it is ${saidWords(pulled)}`;
  return `The mass of the stack, like 12 kg, or the force of the rope, like 60 N. ${said}. Enter goes down. ${rigWords(pulled.rig ?? {})}`;
}

interface EntryProps {
  readonly desk: Desk;
  readonly run: RunId;
  readonly set: ShownSet;
  readonly pulled: Pulled;
  readonly labels: Labels;
}

function Entry({ desk: { loads }, run, set, pulled, labels }: EntryProps): JSX.Element | null {
  const form = useRef<HTMLFormElement>(null);
  const helpId = useId();
  const at = useSignal<LoadCell | null>(null);
  const rows = loadRows(set, labels);
  if (rows.length === 0) return null;
  const of = { run, set: set.set, against: pulled.against };
  const goTo = (cell: LoadCell): void => {
    const inputs = form.current?.querySelectorAll<HTMLInputElement>('[data-load]') ?? [];
    const input = [...inputs].find((one) => one.dataset.load === cellKey(of, cell));
    input?.focus();
    input?.select();
  };
  const parts: EntryParts = { loads, of, rows, at, goTo };
  const problem = loads.problem.value;
  return (
    <details class="loads">
      <summary>Loads that were really pulled</summary>
      <form
        ref={form}
        aria-label="Loads"
        aria-describedby={helpId}
        onSubmit={(event) => {
          event.preventDefault();
          void loads.keep(of, rows);
        }}
      >
        <p class="quiet" id={helpId}>
          {help(pulled)}
        </p>
        <Table parts={parts} said={saidWords(pulled)} />
        <Actions parts={parts} />
        <ProblemNote problem={problem?.run === run && problem.set === set.set ? problem : null} />
      </form>
    </details>
  );
}

/** What was pulled against in a set, rep by rep, to be written down; and what to mind with it. */
export function LoadEntry(props: Omit<EntryProps, 'pulled'>): JSX.Element | null {
  const { pulled } = props.set;
  if (!pulled) return null;
  return (
    <>
      {pulled.caution !== undefined && (
        <p class="caution" data-caution>
          <strong>Caution:</strong> {pulled.caution}.
        </p>
      )}
      <Entry {...props} pulled={pulled} />
    </>
  );
}
