import { Fragment, type JSX } from 'preact';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import { isMixed, type Sheet, type SheetLane, type Target } from '../../shared-types/sheet.ts';
import { formatClock } from '../../shared-types/time.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { Desk } from './desk.ts';
import { type LaneRow, type RepRow, repsText, type SectionRows, sectionsOf } from './lane-rows.ts';
import {
  axisText,
  detailWords,
  distanceWords,
  everyWords,
  pauseWords,
  restWords,
  roundWords,
  type ShownSplit,
  secondsText,
  shownSplits,
  swimWords,
} from './sheet-words.ts';

interface LaneProps {
  readonly desk: Desk;
  readonly sheet: Sheet;
  readonly lane: SheetLane;
  readonly labels: Labels;
  readonly withBasis: boolean;
}

const nameOf = (labels: Labels, swimmer: SwimmerId, place: number): string => labels[swimmer] ?? `Swimmer ${place + 1}`;

const wayWords = (splits: readonly ShownSplit[]): string =>
  splits
    .filter(({ main }) => !main)
    .map(({ text }) => text)
    .join(' ');

const Estimated = (): JSX.Element => <abbr title="estimated">≈</abbr>;

function TargetCell({ target }: { target: Target | undefined }): JSX.Element {
  const splits = target ? shownSplits(target) : [];
  if (!target || splits.length === 0) {
    return (
      <td class="target none" title={target?.basis}>
        <span aria-hidden="true">·</span>
        <span class="visually-hidden">no target</span>
      </td>
    );
  }
  const mixed = isMixed(target);
  const isGuess = target.estimated && !mixed;
  return (
    <td class={isGuess ? 'target estimated' : 'target'} title={target.basis}>
      {isGuess && <Estimated />}
      {splits
        .filter(({ main }) => main)
        .map(({ text, at }) => (
          <strong key={at}>{text}</strong>
        ))}
      {splits.length > 1 && (
        <span class="on-the-way">
          {target.estimated && mixed && <Estimated />}
          {wayWords(splits)}
        </span>
      )}
      <span class={target.restMs !== null && target.restMs < 0 ? 'rest over' : 'rest'}>{restWords(target)}</span>
    </td>
  );
}

/** Where each swimmer's target comes from, below the row it is for. */
function BasisCells({ lane, labels, row }: LaneProps & { readonly row: RepRow }): JSX.Element | null {
  const lines = lane.swimmers.flatMap((swimmer, place) => {
    const basis = row.targets.get(swimmer)?.basis;
    return basis === undefined ? [] : [{ swimmer, text: `${isolated(nameOf(labels, swimmer, place))}: ${basis}` }];
  });
  if (lines.length === 0) return null;
  return (
    <tr class="basis">
      <td colSpan={2} />
      <td colSpan={2 + lane.swimmers.length}>
        {lines.map(({ swimmer, text }) => (
          <div key={swimmer}>{text}</div>
        ))}
      </td>
    </tr>
  );
}

function RepCells({ desk, sheet, lane, row }: LaneProps & { readonly row: RepRow }): JSX.Element {
  const { first } = row;
  const detail = [roundWords(first), detailWords(sheet, first)].filter(Boolean).join(' · ');
  return (
    <tr data-at-ms={first.atMs} data-line={first.line}>
      <th scope="row" class="at">
        {axisText(first.atMs)}
      </th>
      <td class="reps">{repsText(row)}</td>
      <td class="swim">
        <button type="button" title={`Line ${first.line}`} onClick={() => desk.jumpTo({ line: first.line, column: 1 })}>
          {swimWords(sheet, first)}
        </button>
        {detail && <span class="detail">{detail}</span>}
      </td>
      <td class="every">{everyWords(row)}</td>
      {lane.swimmers.map((swimmer) => (
        <TargetCell key={swimmer} target={row.targets.get(swimmer)} />
      ))}
    </tr>
  );
}

function PauseCells({ row, columns }: { row: Extract<LaneRow, { kind: 'pause' }>; columns: number }): JSX.Element {
  return (
    <tr class={row.step.kind === 'gate' ? 'pause gate' : 'pause'} data-at-ms={row.step.atMs}>
      <th scope="row" class="at">
        {axisText(row.step.atMs)}
      </th>
      <td colSpan={columns - 1}>{pauseWords(row.step)}</td>
    </tr>
  );
}

function SectionBody(props: LaneProps & { readonly rows: SectionRows }): JSX.Element {
  const { sheet, lane, rows } = props;
  const columns = 4 + lane.swimmers.length;
  const name = sheet.sections[rows.section]?.name ?? '';
  return (
    <tbody>
      {name && (
        <tr class="section">
          <th scope="rowgroup" colSpan={columns}>
            <bdi>{name}</bdi>
          </th>
        </tr>
      )}
      {rows.rows.map((row) =>
        row.kind === 'rep' ? (
          <Fragment key={row.first.id}>
            <RepCells {...props} row={row} />
            {props.withBasis && <BasisCells {...props} row={row} />}
          </Fragment>
        ) : (
          <PauseCells key={row.step.id} row={row} columns={columns} />
        ),
      )}
    </tbody>
  );
}

/** One lane's way through the practice: when it leaves, what it swims, what each swimmer holds. */
export function LaneTable(props: LaneProps): JSX.Element {
  const { sheet, lane, labels } = props;
  return (
    <table class="lane-sheet" id={`sheet-lane-${lane.lane}`} data-sheet-lane={lane.lane}>
      <caption>
        <strong>Lane {lane.lane}</strong> <span>group {lane.group}</span>{' '}
        <span>{distanceWords(lane.distance, sheet.course)}</span> <span>{secondsText(lane.durationMs)}</span>{' '}
        <span>{formatClock(lane.apartMs)} apart</span>
      </caption>
      <thead>
        <tr>
          <th scope="col">At</th>
          <th scope="col">Reps</th>
          <th scope="col">Swim</th>
          <th scope="col">Every</th>
          {lane.swimmers.map((swimmer, place) => (
            <th key={swimmer} scope="col" class="target">
              <bdi>{nameOf(labels, swimmer, place)}</bdi>
            </th>
          ))}
        </tr>
      </thead>
      {sectionsOf(sheet, lane).map((rows) => (
        <SectionBody key={rows.rows[0]?.kind === 'rep' ? rows.rows[0].first.id : rows.section} {...props} rows={rows} />
      ))}
    </table>
  );
}
