import type { ComponentChildren, JSX } from 'preact';
import type { ClockFace } from '../../shared-types/time.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { JudgedRep, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { nameOf } from './names.ts';
import { RepCell } from './rep-cell.tsx';
import { isDrawable } from './rep-chart.ts';
import { RepChartView } from './rep-chart-view.tsx';
import { type FigureColumn, figureColumns, type Written } from './result-figures.ts';
import { hasTimes, kindWords, mostReps, roundWords, setHeading, withoutTimes } from './result-words.ts';
import { SeasonLinks } from './season-links.tsx';
import { TableFrame } from './table-frame.tsx';

/** A figure, or a dash that says why there is none to who points at it, comes to it by keyboard, or hears it read. */
function FigureCell({ written }: { written: Written }): JSX.Element {
  if ('text' in written) {
    return (
      <td class="figure">
        {written.text}
        {written.against !== undefined && <span class="against">{written.against}</span>}
      </td>
    );
  }
  return (
    <td class="figure">
      <button type="button" class="unknown" aria-label={`not known: ${written.why}`}>
        –
        <span class="why" aria-hidden="true">
          {written.why}
        </span>
      </button>
    </td>
  );
}

function SwimmerRow({ own, name, reps, columns, face }: RowProps): JSX.Element {
  return (
    <tr data-swimmer={own.swimmer}>
      <th scope="row">
        <bdi>{name}</bdi>
        <span class="lead" data-lead>
          {own.lead.line}
        </span>
      </th>
      {columns.leading.map((column) => (
        <FigureCell key={column.label} written={column.of(own, face)} />
      ))}
      {reps.map(({ rep }) => (
        <RepCell key={rep} rep={own.reps.find((one) => one.rep === rep)} />
      ))}
      {columns.further.map((column) => (
        <FigureCell key={column.label} written={column.of(own, face)} />
      ))}
    </tr>
  );
}

interface RowProps {
  readonly own: ShownSwimmer;
  readonly name: string;
  /** The columns between the figures. */
  readonly reps: readonly JudgedRep[];
  readonly columns: ReturnType<typeof figureColumns>;
  readonly face: ClockFace;
}

const FigureHead = ({ column }: { column: FigureColumn }): JSX.Element => (
  <th scope="col" class="figure" title={column.means}>
    {column.label}
  </th>
);

/** Its number; with its stroke and activity where they change. */
function RepHead({ rep, kind }: { rep: JudgedRep; kind: string }): JSX.Element {
  return (
    <th scope="col" class="rep">
      <span class="visually-hidden">rep </span>
      {rep.rep}
      {kind !== '' && <span class="quiet"> · {kind}</span>}
    </th>
  );
}

/** The rounds of a set that has several, each with how many reps it has. */
function roundsOf(reps: readonly JudgedRep[]): { readonly words: string; readonly reps: number }[] {
  const counts = new Map<string, number>();
  for (const rep of reps) counts.set(roundWords(rep), (counts.get(roundWords(rep)) ?? 0) + 1);
  return counts.size < 2 ? [] : [...counts].map(([words, count]) => ({ words, reps: count }));
}

function Head({ reps, columns }: Pick<RowProps, 'reps' | 'columns'>): JSX.Element {
  const rounds = roundsOf(reps);
  return (
    <thead>
      {rounds.length > 0 && (
        <tr>
          <td colSpan={1 + columns.leading.length} />
          {rounds.map(({ words, reps }) => (
            <th key={words} scope="colgroup" class="round" colSpan={reps}>
              {words}
            </th>
          ))}
          {columns.further.length > 0 && <td colSpan={columns.further.length} />}
        </tr>
      )}
      <tr>
        <th scope="col">Swimmer</th>
        {columns.leading.map((column) => (
          <FigureHead key={column.label} column={column} />
        ))}
        {reps.map((rep) => (
          <RepHead key={rep.rep} rep={rep} kind={kindWords(rep, reps)} />
        ))}
        {columns.further.map((column) => (
          <FigureHead key={column.label} column={column} />
        ))}
      </tr>
    </thead>
  );
}

interface Shown {
  readonly set: ShownSet;
  readonly labels: Labels;
  /** The pool's clock: dates are days there. */
  readonly face: ClockFace;
}

function Table({ set, labels, face, heading }: Shown & { heading: string }): JSX.Element {
  const columns = figureColumns(set.style);
  const reps = mostReps(set);
  return (
    <TableFrame label={`Times of ${heading}`}>
      <table class="times-table">
        <Head reps={reps} columns={columns} />
        <tbody>
          {set.swimmers.map((own) => (
            <SwimmerRow
              key={own.swimmer}
              own={own}
              name={nameOf(labels, own.swimmer)}
              reps={reps}
              columns={columns}
              face={face}
            />
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}

/** What the columns are, for those who do not point at their heads. */
function Meanings({ set: { style } }: { set: ShownSet }): JSX.Element {
  const { leading, further } = figureColumns(style);
  return (
    <details>
      <summary>What the figures are</summary>
      <dl class="meanings">
        {[...leading, ...further].map(({ label, means }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{means}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

interface ResultSetProps extends Shown {
  /** What can be done to the set. */
  readonly children?: ComponentChildren;
}

/** What the times of one set say, swimmer by swimmer. */
export function ResultSet({ set, labels, face, children }: ResultSetProps): JSX.Element {
  const { detail, style } = set;
  const heading = setHeading(set);
  return (
    <section class="card result-set" aria-label={heading} data-set={set.set}>
      <div class="set-title">
        <h3>{heading}</h3>
        {detail !== '' && <span class="quiet">{detail}</span>}
        <span class="badge" data-style={style}>
          {style}
        </span>
        <SeasonLinks set={set} />
      </div>
      {hasTimes(set) ? (
        <>
          {isDrawable(set) && <RepChartView set={set} labels={labels} />}
          <Table set={set} labels={labels} face={face} heading={heading} />
          <Meanings set={set} />
        </>
      ) : (
        <p class="quiet">{withoutTimes(set)}</p>
      )}
      {children}
    </section>
  );
}
