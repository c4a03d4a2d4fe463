import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Desk } from './desk.ts';
import { LaneTable } from './lane-table.tsx';
import type { ShownSheet } from './preview-model.ts';
import { Totals } from './totals.tsx';

function NoSheet({ desk }: { desk: Desk }): JSX.Element {
  if (desk.manuscript.text.value.trim() === '') {
    return (
      <div class="no-sheet">
        <h3>The sheet comes here</h3>
        <p>
          As you write, every lane's send-offs and every swimmer's targets are worked out here, before anything is on
          the wall.
        </p>
      </div>
    );
  }
  const makesSheet = desk.preview.makesSheet.value;
  return (
    <div class="no-sheet" role="status">
      {makesSheet === false ? (
        <p>No sheet yet: the messages beside the text say what cannot be read.</p>
      ) : (
        <p>{desk.preview.problem.value ? 'There is no sheet while the server does not answer.' : 'Working it out…'}</p>
      )}
    </div>
  );
}

function LaneJumps({ lanes }: { lanes: readonly number[] }): JSX.Element {
  const jump = (lane: number): void =>
    document.getElementById(`sheet-lane-${lane}`)?.scrollIntoView({ block: 'start' });
  return (
    <nav class="lane-jumps" aria-label="Lanes of the sheet">
      <span aria-hidden="true">Lane</span>
      {lanes.map((lane) => (
        <button key={lane} type="button" aria-label={`To lane ${lane}`} onClick={() => jump(lane)}>
          {lane}
        </button>
      ))}
    </nav>
  );
}

function Sheet({ desk, shown }: { desk: Desk; shown: ShownSheet }): JSX.Element {
  const withBasis = useSignal(false);
  const { sheet, labels } = shown.preview;
  if (!sheet) return <NoSheet desk={desk} />;
  if (sheet.lanes.length === 0) {
    return (
      <div class="no-sheet">
        <p>
          The practice can be read, but nobody has a lane. <a href="#squad">Load the squad</a> and the lanes appear.
        </p>
      </div>
    );
  }
  return (
    <>
      <div class="sheet-head">
        <Totals sheet={sheet} />
        <div class="sheet-tools">
          <LaneJumps lanes={sheet.lanes.map(({ lane }) => lane)} />
          {shown.fromBefore && (
            <p class="from-before" role="status">
              {desk.preview.makesSheet.value === false ? 'As it was before the errors' : 'Of an earlier text'}
            </p>
          )}
          <label>
            <input
              type="checkbox"
              checked={withBasis.value}
              onChange={({ currentTarget }) => {
                withBasis.value = currentTarget.checked;
              }}
            />
            Where targets come from
          </label>
        </div>
      </div>
      <div class="lanes">
        {sheet.lanes.map((lane) => (
          <LaneTable
            key={lane.lane}
            desk={desk}
            sheet={sheet}
            lane={lane}
            labels={labels}
            withBasis={withBasis.value}
          />
        ))}
      </div>
    </>
  );
}

/** The sheet as it will be. */
export function SheetView({ desk }: { desk: Desk }): JSX.Element {
  const shown = desk.preview.shown.value;
  return (
    <section class={shown?.fromBefore ? 'sheet stale' : 'sheet'} aria-label="Sheet">
      {shown ? <Sheet desk={desk} shown={shown} /> : <NoSheet desk={desk} />}
    </section>
  );
}
