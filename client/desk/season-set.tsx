import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { type ClockFace, formatSwimTime } from '../../shared-types/time.ts';
import type { SetHistoryAnswer } from '../../shared-types/wire/history.ts';
import { runAddress } from './address.ts';
import { Chart } from './chart.tsx';
import { longDay, shortDay } from './days.ts';
import type { Desk } from './desk.ts';
import { MarkKey } from './mark-key.tsx';
import { nameOf } from './names.ts';
import { type DrawnSeason, LOOSE_MARK, STRICT_MARK, seasonChart, seasonGist, seasonReading } from './season-chart.ts';
import { type SeasonRow, seasonRows, swimmersOf } from './season-figures.ts';
import { changeText, heldWords, kindWords, rowSendOffs, timedWords } from './season-words.ts';
import { TableFrame } from './table-frame.tsx';

/** Px. */
const CHART_HEIGHT = 280;

interface ChooserProps {
  readonly drawn: DrawnSeason;
  readonly choose: (swimmer: SwimmerId | null) => void;
}

function Chooser({ drawn: { history, of }, choose }: ChooserProps): JSX.Element {
  const swimmers = swimmersOf(history.occurrences);
  return (
    <label class="chooser">
      <span>Times of</span>
      <select
        value={of}
        data-season-of
        onChange={({ currentTarget }) => choose(swimmers.find((swimmer) => swimmer === currentTarget.value) ?? null)}
      >
        <option value="squad">The squad, on average</option>
        {swimmers.map((swimmer) => (
          <option key={swimmer} value={swimmer}>
            {nameOf(history.labels, swimmer)}
          </option>
        ))}
      </select>
    </label>
  );
}

interface RowProps {
  readonly row: SeasonRow;
  readonly drawn: DrawnSeason;
  readonly face: ClockFace;
}

function Change({ row, face }: Omit<RowProps, 'drawn'>): JSX.Element {
  const { change } = row;
  if (!change) return <td class="figure quiet">{row.meanMs === null ? '' : 'first time'}</td>;
  const since = change.sinceAt === null ? 'since the times before' : `since ${shortDay(change.sinceAt, face)}`;
  return (
    <td class="figure">
      <strong>{changeText(row)}</strong>
      <span class="asked">
        {since}
        {change.likeness === 'loose' && ', sent off or swum otherwise'}
      </span>
    </td>
  );
}

function Occurrence({ row, drawn: { history, of }, face }: RowProps): JSX.Element {
  const { occurrence, meanMs, best, swum } = row;
  return (
    <tr data-occurrence={occurrence.run} data-strict={row.isStrict}>
      <th scope="row">
        <a href={runAddress(occurrence.run)}>{longDay(occurrence.at, face)}</a>
        <span class="lead">
          <bdi>{occurrence.title ?? 'Untitled practice'}</bdi>
          {occurrence.rehearsed && ', rehearsed'}
        </span>
      </th>
      <td class="sent-off">
        {rowSendOffs(row, history.signature).map((words) => (
          <span key={words}>{words}</span>
        ))}
        {!row.isStrict && <span class="quiet">not as the last time</span>}
      </td>
      {of === 'squad' && <td class="figure">{swum.length}</td>}
      <td class="figure">{timedWords(swum)}</td>
      <td class="figure">{meanMs === null ? 'no times' : <strong>{formatSwimTime(meanMs, 1)}</strong>}</td>
      <td class="figure">
        {best && formatSwimTime(best.ms, 1)}
        {best && of === 'squad' && <span class="asked">{nameOf(history.labels, best.swimmer)}</span>}
      </td>
      <td class="figure">{heldWords(row) ?? ''}</td>
      <Change row={row} face={face} />
    </tr>
  );
}

function Occurrences({ rows, drawn, face }: Omit<RowProps, 'row'> & { rows: readonly SeasonRow[] }): JSX.Element {
  const heads = ['Sent off', ...(drawn.of === 'squad' ? ['Swimmers'] : []), 'Timed', 'Mean', 'Best', 'Held', 'Change'];
  return (
    <TableFrame label="Each time it was swum">
      <table class="times-table season-table">
        <thead>
          <tr>
            <th scope="col">Swum on</th>
            {heads.map((head) => (
              <th key={head} scope="col" class={head === 'Sent off' ? 'sent-off' : 'figure'}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {[...rows].reverse().map((row) => (
            <Occurrence key={`${row.occurrence.run} ${row.occurrence.set}`} row={row} drawn={drawn} face={face} />
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}

const SQUAD_WORDS =
  'The mean is that of the swimmers’ means; the change is the mean of what each has changed since the own time before, so that it does not move with who is there.';

/** One set each time it was swum, of the squad or of one swimmer. */
export function SeasonSet({ desk, history }: { desk: Desk; history: SetHistoryAnswer }): JSX.Element {
  const [swimmer, choose] = useState<SwimmerId | null>(null);
  const face = desk.link.settings.value;
  const drawn = useMemo((): DrawnSeason => ({ history, of: swimmer ?? 'squad' }), [history, swimmer]);
  const chart = useMemo(() => seasonChart(drawn, face), [drawn, face]);
  const rows = seasonRows(history.occurrences, drawn.of);
  return (
    <section class="card result-set" aria-label={kindWords(history)} data-season={history.signature}>
      <div class="set-title">
        <h2>{kindWords(history)}</h2>
        <span class="badge">{history.style}</span>
      </div>
      <Chart
        chart={chart}
        label={seasonGist(drawn)}
        height={CHART_HEIGHT}
        read={(place) => seasonReading(drawn, chart, place)}
      >
        <Chooser drawn={drawn} choose={choose} />
      </Chart>
      <SeasonKey drawn={drawn} rows={rows} />
      <Occurrences rows={rows} drawn={drawn} face={face} />
      {drawn.of === 'squad' && <p class="quiet">{SQUAD_WORDS}</p>}
    </section>
  );
}

function SeasonKey({ drawn: { of }, rows }: { drawn: DrawnSeason; rows: readonly SeasonRow[] }): JSX.Element {
  const isSquad = of === 'squad';
  const hasLoose = rows.some(({ isStrict }) => !isStrict);
  return (
    <MarkKey
      marks={[
        { mark: STRICT_MARK, words: `${isSquad ? 'squad mean' : 'mean'}, with send-off and effort of the last time` },
        ...(hasLoose ? [{ mark: LOOSE_MARK, words: 'with another send-off or effort: not joined' }] : []),
      ]}
      lines={[{ line: 'faint', words: isSquad ? 'each swimmer' : 'the other swimmers' }]}
    />
  );
}
