import { useMemo, useRef, useState } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import { readCalledTime } from '../../shared-types/called-time.ts';
import { TAKINGS, type Taking } from '../../shared-types/timed-places.ts';
import type { Deck } from './deck-model.ts';
import { Panel } from './panel.tsx';
import { PressButton } from './press-button.tsx';
import { SetStepper } from './set-stepper.tsx';
import { steady } from './steady.ts';
import { type GridCell, gridOf, type LaneGrid } from './time-grid.ts';
import { ViewButton } from './view-button.tsx';

interface LaneProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
}

const TAKING_WORDS: Readonly<Record<Taking, string>> = {
  part: 'part of it',
  finish: 'finish',
  both: 'both',
};

const NO_GRID: LaneGrid = { sets: [], set: null, columns: [], rows: [], taking: null };

/** A lane's times of a set, swimmers by reps, each to be typed over; and what of its reps is timed. */
export function TimesPanel({ deck, lane, onClose }: LaneProps & { readonly onClose: () => void }) {
  const [wanted, setWanted] = useState<number | null>(null);
  const grid = useMemo(
    () =>
      steady(() => {
        const known = deck.times.known(deck.board.value.at);
        return known ? gridOf(known, lane, wanted) : NO_GRID;
      }),
    [deck, lane, wanted],
  ).value;
  const [wrong, setWrong] = useState('');
  const place = grid.sets.findIndex(({ set }) => set === grid.set);
  const head =
    grid.set === null ? (
      <h2 class="panel-title">Times, lane {lane}</h2>
    ) : (
      <SetStepper sets={grid.sets} place={place} onStep={({ set }) => setWanted(set)}>
        <div class="set-words" role="status" data-grid-set={grid.set}>
          <p class="set-where">Times, lane {lane}</p>
          <p class="set-what grid-set">{grid.sets[place]?.words}</p>
        </div>
      </SetStepper>
    );
  return (
    <Panel name={`Times of lane ${lane}`} head={head} onClose={onClose}>
      {grid.set === null ? (
        <p>Nobody has left in this lane yet.</p>
      ) : (
        <>
          <div class="grid-options">
            {grid.taking && <TakingButton deck={deck} set={grid.set} taking={grid.taking} />}
            <LaneSteps deck={deck} lane={lane} />
          </div>
          <p class="grid-wrong" role="alert">
            {wrong}
          </p>
          <TimesTable deck={deck} lane={lane} grid={grid} onWrong={setWrong} />
        </>
      )}
    </Panel>
  );
}

interface TakingProps {
  readonly deck: Deck;
  readonly set: number;
  readonly taking: Taking;
}

/** What of the set's reps is timed: a press goes on to the next choice. */
function TakingButton({ deck, set, taking }: TakingProps) {
  const next = TAKINGS[(TAKINGS.indexOf(taking) + 1) % TAKINGS.length] ?? 'part';
  const choose = (): void => {
    const practice = deck.link.practice.peek();
    if (practice) deck.choices.choose(practice.run.id, practice.sheet, set, next);
  };
  return (
    <PressButton
      class="plain"
      name={`Timed: ${TAKING_WORDS[taking]}; change to ${TAKING_WORDS[next]}`}
      disabled={false}
      data={{ 'data-press': 'taking', 'data-taking': taking }}
      onPress={choose}
    >
      <small>timed</small> {TAKING_WORDS[taking]}
    </PressButton>
  );
}

/** The lanes before and after, the keypad, and what the times say. */
function LaneSteps({ deck, lane }: LaneProps) {
  const lanes = useMemo(() => steady(() => deck.board.value.lanes.map((one) => one.lane)), [deck]).value;
  const place = lanes.indexOf(lane);
  const step = (by: -1 | 1) => {
    const other = lanes[place + by];
    return (
      <ViewButton
        class="plain"
        name={other ? `Times of lane ${other}` : 'No more lanes'}
        disabled={other === undefined}
        data={{ 'data-press': 'lane-step', 'data-by': by }}
        onPress={() => other && deck.show({ kind: 'times', lane: other })}
      >
        {other ? `lane ${other}` : '–'}
      </ViewButton>
    );
  };
  return (
    <>
      {step(-1)}
      {step(1)}
      <ViewButton
        class="plain"
        name="Type a time called out"
        data={{ 'data-press': 'keypad' }}
        onPress={() => deck.show({ kind: 'keypad', lane })}
      >
        Type
      </ViewButton>
      <ViewButton class="plain" data={{ 'data-press': 'results' }} onPress={() => deck.show({ kind: 'results', lane })}>
        Results
      </ViewButton>
    </>
  );
}

interface TableProps extends LaneProps {
  readonly grid: LaneGrid;
  /** With what is wrong with the time typed last; empty: nothing. */
  readonly onWrong: (words: string) => void;
}

function TimesTable({ deck, lane, grid, onWrong }: TableProps) {
  const table = useRef<HTMLTableElement>(null);
  const goTo = (row: number, column: number): void =>
    table.current?.querySelector<HTMLInputElement>(`[data-row="${row}"][data-column="${column}"]`)?.focus();
  return (
    <div class="grid-scroll">
      <table class="grid" ref={table}>
        <thead>
          <tr>
            <th scope="col">rep</th>
            {grid.columns.map((words) => (
              <th key={words} scope="col">
                {words}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {grid.rows.map(({ swimmer, name, cells }, row) => (
            <tr key={swimmer} data-swimmer={swimmer}>
              <th scope="row">
                <bdi>{name}</bdi>
              </th>
              {cells.map((cell, column) => (
                <td key={grid.columns[column]}>
                  {cell && (
                    <Cell
                      key={`${cell.thing.step} ${cell.thing.pass} ${cell.thing.distance}`}
                      deck={deck}
                      lane={lane}
                      cell={cell}
                      name={`${name}, rep ${grid.columns[column]}`}
                      place={[row, column]}
                      onGo={(down, right) => goTo(row + down, column + right)}
                      onWrong={onWrong}
                    />
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Which cell a key goes to, as rows down and columns right. */
const WAYS: Readonly<Record<string, readonly [number, number]>> = {
  Enter: [1, 0],
  ArrowDown: [1, 0],
  ArrowUp: [-1, 0],
};

interface CellProps extends LaneProps, Pick<TableProps, 'onWrong'> {
  readonly cell: GridCell;
  readonly name: string;
  /** Row and column, from 0. */
  readonly place: readonly [number, number];
  readonly onGo: (down: number, right: number) => void;
}

/** One time, kept as soon as the cell is left; what cannot be read stays and says why. */
function Cell({ deck, lane, cell, name, place: [row, column], onGo, onWrong }: CellProps) {
  const [draft, setDraft] = useState<string | null>(null);
  // Going on to another cell leaves this one before it is drawn again: what was kept must not be kept twice.
  const unkept = useRef<string | null>(null);
  const edit = (text: string | null): void => {
    unkept.current = text;
    setDraft(text);
  };
  const keep = (): void => {
    const text = unkept.current?.trim();
    if (text === undefined) return;
    const isSame = text === cell.time;
    const read = isSame || text === '' ? null : readCalledTime(text, cell.thing.distance);
    if (read && !read.ok) {
      onWrong(`${name}: ${read.message}`);
      return;
    }
    if (!isSame) deck.times.type(lane, cell.thing, read?.ms ?? null);
    onWrong('');
    edit(null);
  };
  const key = (event: KeyboardEvent): void => {
    const way = WAYS[event.key];
    if (!way) return;
    event.preventDefault();
    keep();
    onGo(...way);
  };
  return (
    <input
      class="cell"
      type="text"
      inputMode="decimal"
      enterKeyHint="next"
      autoComplete="off"
      aria-label={cell.target === '' ? name : `${name}, target ${cell.target}`}
      data-row={row}
      data-column={column}
      placeholder={cell.target}
      value={draft ?? cell.time}
      onInput={(event) => edit(event.currentTarget.value)}
      onFocus={(event) => event.currentTarget.select()}
      onBlur={keep}
      onKeyDown={key}
    />
  );
}
