import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { SetKind } from '../../shared-types/wire/history.ts';
import { seasonAddress } from './address.ts';
import { longDay } from './days.ts';
import type { Desk } from './desk.ts';
import { ProblemNote } from './problem-note.tsx';
import { RehearsedTick } from './rehearsed-tick.tsx';
import { SeasonSet } from './season-set.tsx';
import { kindsLike, kindWords, oftenWords } from './season-words.ts';

function KindChoice({ desk, kind }: { desk: Desk; kind: SetKind }): JSX.Element {
  const isChosen = desk.season.chosen.value === kind.signature;
  return (
    <li>
      <a
        class="button run"
        href={seasonAddress(kind.signature)}
        data-kind={kind.signature}
        aria-current={isChosen ? 'true' : undefined}
      >
        <strong>{kindWords(kind)}</strong>
        <span>
          {kind.style}, {oftenWords(kind)}
        </span>
        <span class="quiet">last on {longDay(kind.lastAt, desk.link.settings.value)}</span>
      </a>
    </li>
  );
}

function KindList({ desk }: { desk: Desk }): JSX.Element | null {
  const { kinds, typed, rehearsed } = desk.season;
  if (!kinds.value) return <p class="quiet">{desk.season.problem.value ? 'They are not known.' : 'Loading…'}</p>;
  const found = kindsLike(kinds.value, typed.value);
  return (
    <>
      {kinds.value.length === 0 && (
        <p class="quiet">None yet{rehearsed.value ? '' : '. What was only rehearsed does not count'}.</p>
      )}
      {kinds.value.length > 0 && found.length === 0 && (
        <p class="quiet">No set has that in it. Type less, or other words: a distance, a stroke, a style.</p>
      )}
      <ul>
        {found.map((kind) => (
          <KindChoice key={kind.signature} desk={desk} kind={kind} />
        ))}
      </ul>
    </>
  );
}

function Kinds({ desk }: { desk: Desk }): JSX.Element {
  const { season } = desk;
  return (
    <nav class="runs" aria-label="Sets swum">
      <h2>Sets swum</h2>
      <label class="finding">
        <span>Find</span>
        <input
          value={season.typed.value}
          placeholder="8 x 50 free"
          data-find-set
          onInput={({ currentTarget }) => {
            season.typed.value = currentTarget.value;
          }}
        />
      </label>
      <RehearsedTick counting={season}>Rehearsed ones, too</RehearsedTick>
      <KindList desk={desk} />
      {season.more.value && (
        <button type="button" data-action="older-kinds" onClick={() => void season.showOlder()}>
          Show older ones
        </button>
      )}
    </nav>
  );
}

const notSwum = (isWithRehearsed: boolean): string =>
  isWithRehearsed
    ? 'This set has not been swum yet.'
    : 'This set has not been swum yet, or only rehearsed: tick “Rehearsed ones, too” to see that.';

function Chosen({ desk }: { desk: Desk }): JSX.Element | null {
  const { chosen, shown, unknown, rehearsed, problem } = desk.season;
  if (chosen.value === null) return <p class="quiet">Choose a set to see what it came to each time it was swum.</p>;
  if (unknown.value === chosen.value) return <p data-not-swum>{notSwum(rehearsed.value)}</p>;
  const history = shown.value;
  if (history?.signature === chosen.value) return <SeasonSet key={history.signature} desk={desk} history={history} />;
  return problem.value ? null : <p class="quiet">Loading…</p>;
}

/** The same set over the season: which there are, and what one came to each time. */
export function SeasonArea({ desk }: { desk: Desk }): JSX.Element {
  const { season } = desk;
  useEffect(() => void season.reload(), [season]);
  return (
    <div class="results">
      <Kinds desk={desk} />
      <section class="results-main" aria-label="The set over the season">
        <ProblemNote problem={season.problem.value} />
        <Chosen desk={desk} />
      </section>
    </div>
  );
}
