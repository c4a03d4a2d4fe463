import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Place } from './address.ts';
import type { Desk } from './desk.ts';
import { ResultsArea } from './results-area.tsx';
import { SeasonArea } from './season-area.tsx';
import { WeeksArea } from './weeks-area.tsx';

export type ResultsPlace = Extract<Place, { area: 'results' }>;

const PAGES = [
  { page: 'practices', label: 'Practice by practice', href: '#results' },
  { page: 'season', label: 'A set over the season', href: '#results/season' },
  { page: 'weeks', label: 'Weeks', href: '#results/weeks' },
] as const;

interface Props {
  readonly desk: Desk;
  readonly place: ResultsPlace;
}

/** Chooses what the address names. */
function useChosen({ desk, place }: Props): void {
  const run = place.page === 'practices' ? place.run : null;
  const signature = place.page === 'season' ? place.signature : null;
  useEffect(() => {
    if (run !== null) desk.results.choose(run);
  }, [desk, run]);
  useEffect(() => {
    void desk.season.choose(signature);
  }, [desk, signature]);
}

/** What was swum: practice by practice, and over the weeks. */
export function ResultsPages({ desk, place }: Props): JSX.Element {
  useChosen({ desk, place });
  return (
    <>
      <nav class="pages" aria-label="Results">
        {PAGES.map(({ page, label, href }) => (
          <a key={page} href={href} data-page={page} aria-current={page === place.page ? 'page' : undefined}>
            {label}
          </a>
        ))}
      </nav>
      {place.page === 'practices' && <ResultsArea desk={desk} />}
      {place.page === 'season' && <SeasonArea desk={desk} />}
      {place.page === 'weeks' && <WeeksArea desk={desk} />}
    </>
  );
}
