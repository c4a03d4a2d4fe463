import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { ResultsAnswer, RunSummary } from '../../shared-types/wire/results.ts';
import { runAddress } from './address.ts';
import type { Desk } from './desk.ts';
import { LoadEntry } from './load-entry.tsx';
import { PrintButtons } from './print-buttons.tsx';
import { ProblemNote } from './problem-note.tsx';
import { ResultReferences } from './result-references.tsx';
import { ResultSet } from './result-set.tsx';
import { dayAndTime, runTitle, runWords, toleranceWords } from './result-words.ts';

function RunChoice({ desk, run }: { desk: Desk; run: RunSummary }): JSX.Element {
  const isChosen = desk.results.chosen.value === run.id;
  return (
    <li>
      <button
        type="button"
        class="run"
        data-run={run.id}
        aria-current={isChosen ? 'true' : undefined}
        onClick={() => {
          location.hash = runAddress(run.id);
        }}
      >
        <strong>
          <bdi>{runTitle(run)}</bdi>
        </strong>
        <span>{dayAndTime(run.loadedAt, desk.link.settings.value)}</span>
        <span class="quiet">{runWords(run)}</span>
      </button>
    </li>
  );
}

function Runs({ desk }: { desk: Desk }): JSX.Element {
  const { runs, more, problem } = desk.results;
  const known = runs.value;
  return (
    <nav class="runs" aria-label="Practices swum">
      <h2>Practices swum</h2>
      {!known && <p class="quiet">{problem.value ? 'They are not known.' : 'Loading…'}</p>}
      {known?.length === 0 && <p class="quiet">None yet: put a practice on the wall first.</p>}
      <ul>
        {known?.map((run) => (
          <RunChoice key={run.id} desk={desk} run={run} />
        ))}
      </ul>
      {more.value && (
        <button type="button" data-action="older-runs" onClick={() => void desk.results.showOlder()}>
          Show older ones
        </button>
      )}
    </nav>
  );
}

function Results({ desk, results }: { desk: Desk; results: ResultsAnswer }): JSX.Element {
  const { run, sets, labels, course } = results;
  return (
    <div class="results-of" data-results={run.id} data-times={run.times}>
      <div class="results-title">
        <h2>
          <bdi>{runTitle(run)}</bdi>
        </h2>
        <p class="quiet">
          {dayAndTime(run.loadedAt, desk.link.settings.value)}, {course}, {runWords(run)}
        </p>
        <div class="actions">
          <a class="button" href={`/api/runs/${run.id}/results.csv?role=desk&bom=1`} download data-action="export">
            Save as CSV
          </a>
          <PrintButtons results={results} face={desk.link.settings.value} />
        </div>
      </div>
      <p class="quiet">
        Times are taken by hand, from the send-off to the touch, and shown to the tenth. Under each stands what was
        asked and what became of it: <em>held</em> ({toleranceWords(results)}), <em>under</em> (faster than that) or{' '}
        <em>missed</em>; ≈ is an estimate.
      </p>
      {sets.map((set) => (
        <ResultSet key={`${run.id} ${set.set}`} set={set} labels={labels} face={desk.link.settings.value}>
          <LoadEntry desk={desk} run={run.id} set={set} labels={labels} />
          <ResultReferences desk={desk} run={run.id} set={set} labels={labels} />
        </ResultSet>
      ))}
    </div>
  );
}

/** What the times of a practice say: chosen from those there have been, and as it is swum. */
export function ResultsArea({ desk }: { desk: Desk }): JSX.Element {
  const { results } = desk;
  useEffect(() => results.follow(), [results]);
  const shown = results.shown.value;
  const isOfChosen = shown?.run.id === results.chosen.value;
  return (
    <div class="results">
      <Runs desk={desk} />
      <section class="results-main" aria-label="Results" aria-busy={!isOfChosen && results.chosen.value !== null}>
        <ProblemNote problem={results.problem.value} />
        {shown && isOfChosen && <Results desk={desk} results={shown} />}
      </section>
    </div>
  );
}
