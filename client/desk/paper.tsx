import type { JSX } from 'preact';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { ResultsAnswer, ShownSet } from '../../shared-types/wire/results.ts';
import { nameOf } from './names.ts';
import { type PaperHead, paperBlocks, printedSets, REPS_A_BLOCK } from './paper-blocks.ts';
import { RepCell } from './rep-cell.tsx';
import { figureColumns, type Written } from './result-figures.ts';
import { dayAndTime, hasTimes, mostReps, runTitle, setHeading, withoutTimes } from './result-words.ts';

interface TableProps {
  readonly set: ShownSet;
  readonly labels: Labels;
  /** The pool's clock: dates are days there. */
  readonly face: ClockFace;
  /** Whose rows they are need not be said where there is one swimmer only. */
  readonly isNamed: boolean;
}

const Name = ({ children }: { children: string }): JSX.Element => (
  <th scope="row" class="name">
    <bdi>{children}</bdi>
  </th>
);

const FigureCell = ({ written }: { written: Written }): JSX.Element => (
  <td>{'text' in written ? [written.text, written.against].filter((words) => words !== undefined).join(' ') : '–'}</td>
);

function Figures({ set, labels, face, isNamed }: TableProps): JSX.Element {
  const { leading, further } = figureColumns(set.style);
  const columns = [...leading, ...further];
  return (
    <table>
      <thead>
        <tr>
          {isNamed && <th class="name">Swimmer</th>}
          {columns.map(({ label }) => (
            <th key={label}>{label}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {set.swimmers.map((own) => (
          <tr key={own.swimmer}>
            {isNamed && <Name>{nameOf(labels, own.swimmer)}</Name>}
            {columns.map((column) => (
              <FigureCell key={column.label} written={column.of(own, face)} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Times({
  set,
  labels,
  isNamed,
  block,
}: Omit<TableProps, 'face'> & { block: readonly PaperHead[] }): JSX.Element {
  // So that reps stand in columns of one width whatever the set.
  const empty = REPS_A_BLOCK - block.length;
  return (
    <table class="paper-times">
      <thead>
        <tr>
          {isNamed && <th class="name">Rep</th>}
          {block.map(({ rep, words }) => (
            <th key={rep}>
              {words !== '' && <small>{words}</small>}
              {isNamed ? rep : `Rep ${rep}`}
            </th>
          ))}
          {empty > 0 && <td colSpan={empty} />}
        </tr>
      </thead>
      <tbody>
        {set.swimmers.map((own) => (
          <tr key={own.swimmer}>
            {isNamed && <Name>{nameOf(labels, own.swimmer)}</Name>}
            {block.map(({ rep }) => (
              <RepCell key={rep} rep={own.reps.find((one) => one.rep === rep)} />
            ))}
            {empty > 0 && <td colSpan={empty} />}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function PaperSet({ set, labels, face, isNamed }: TableProps): JSX.Element {
  const [own] = set.swimmers;
  return (
    <section class="paper-set">
      <h2>
        {setHeading(set)} <small>{[set.detail, set.style].filter((words) => words !== '').join(', ')}</small>
      </h2>
      {hasTimes(set) ? (
        <>
          {!isNamed && <p>{own?.lead.line}</p>}
          <Figures set={set} labels={labels} face={face} isNamed={isNamed} />
          {paperBlocks(mostReps(set)).map((block) => (
            <Times key={block[0]?.rep} set={set} labels={labels} isNamed={isNamed} block={block} />
          ))}
        </>
      ) : (
        <p>{withoutTimes(set)}</p>
      )}
    </section>
  );
}

interface PaperProps {
  readonly results: ResultsAnswer;
  readonly face: ClockFace;
  /** Null: everybody. */
  readonly swimmer: SwimmerId | null;
}

/** `Ada Vance: Thursday, Fri 15 Jan 2027, 18:05`: what stands on every page. */
export function paperTitle({ results: { run, labels }, face, swimmer }: PaperProps): string {
  const practice = `${isolated(runTitle(run))}, ${dayAndTime(run.loadedAt, face)}`;
  return swimmer === null ? practice : `${isolated(nameOf(labels, swimmer))}: ${practice}`;
}

/** The results of a practice as they are handed out: nothing wider than a page, nothing to press. */
export function Paper({ results, face, swimmer }: PaperProps): JSX.Element {
  const { run, labels, course } = results;
  return (
    <article>
      <h1>
        <bdi>{swimmer === null ? runTitle(run) : nameOf(labels, swimmer)}</bdi>
      </h1>
      <p>
        {swimmer !== null && `${isolated(runTitle(run))}, `}
        {dayAndTime(run.loadedAt, face)}, {course}. Times by hand, from the send-off to the touch; under each what was
        asked and what became of it.
      </p>
      {printedSets(results, swimmer).map((set) => (
        <PaperSet key={set.set} set={set} labels={labels} face={face} isNamed={swimmer === null} />
      ))}
    </article>
  );
}
