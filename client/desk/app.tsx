import { type ReadonlySignal, useSignal } from '@preact/signals';
import type { ComponentChildren, JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { LinkState } from '../common/live.ts';
import { type AreaName, type Place, placeIn } from './address.ts';
import { Conflict } from './conflict.tsx';
import type { Desk } from './desk.ts';
import { KeyBegun, KeysDialog } from './keys-dialog.tsx';
import { PlanArea } from './plan-area.tsx';
import { PracticeArea } from './practice-area.tsx';
import { QuestionDialog } from './question-dialog.tsx';
import { ResultsPages } from './results-pages.tsx';
import { SquadArea } from './squad-area.tsx';
import { SwimmerPage } from './swimmer-page.tsx';
import { TodayArea } from './today-area.tsx';
import { stateWords } from './today-words.ts';
import { useKeys } from './use-keys.ts';
import { wallTitle } from './wall-model.ts';
import { Welcome } from './welcome.tsx';

const AREAS: readonly { readonly name: AreaName; readonly label: string }[] = [
  { name: 'practice', label: 'Practice' },
  { name: 'plan', label: 'Week' },
  { name: 'squad', label: 'Squad' },
  { name: 'today', label: 'Today' },
  { name: 'results', label: 'Results' },
];

/** Where in the desk the page's address says. */
function usePlace(): ReadonlySignal<Place> {
  const place = useSignal(placeIn(location.hash));
  useEffect(() => {
    const follow = (): void => {
      place.value = placeIn(location.hash);
    };
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, [place]);
  return place;
}

const LINK_WORDS: Readonly<Record<LinkState, string>> = {
  connecting: 'Connecting to the server',
  live: 'Connected',
  alone: 'No connection to the server',
  refused: 'The server refused this page',
};

function LinkStatus({ desk }: { desk: Desk }): JSX.Element {
  const state = desk.link.state.value;
  return (
    <p class="link-status" data-link={state} role="status">
      <span class="dot" aria-hidden="true" />
      {LINK_WORDS[state]}
    </p>
  );
}

function OnTheWall({ desk }: { desk: Desk }): JSX.Element {
  const live = desk.link.practice.value;
  return (
    <a class="on-the-wall" href="#today">
      {live ? (
        <>
          On the wall:{' '}
          <strong>
            <bdi>{wallTitle(live)}</bdi>
          </strong>
          , {stateWords(live.run.state)}
        </>
      ) : (
        'Nothing on the wall'
      )}
    </a>
  );
}

function Header({ desk, area }: { desk: Desk; area: AreaName }): JSX.Element {
  return (
    <header class="top">
      <h1>
        Farwall <span>desk</span>
      </h1>
      <nav aria-label="Areas of the desk">
        {AREAS.map(({ name, label }) => (
          <a key={name} href={`#${name}`} data-area={name} aria-current={name === area ? 'page' : undefined}>
            {label}
          </a>
        ))}
      </nav>
      <OnTheWall desk={desk} />
      <LinkStatus desk={desk} />
      <button type="button" class="plain show-keys" data-action="keys" onClick={() => desk.keys.show(true)}>
        Keys
      </button>
    </header>
  );
}

function LinkDown({ desk }: { desk: Desk }): JSX.Element | null {
  const state = desk.link.state.value;
  if (state === 'live' || state === 'connecting') return null;
  return (
    <p class="strip" role="alert">
      {state === 'refused'
        ? `The server does not take this page: ${desk.link.refusal.value ?? 'it gave no reason'}. Reload it.`
        : 'The server cannot be reached. What you write is kept on this computer, and the walls go on by themselves; the desk takes up again as soon as the server answers.'}
    </p>
  );
}

/** Said once for the whole page, instead of at each button that an owner alone may press. */
function OnlyCoach({ desk }: { desk: Desk }): JSX.Element | null {
  if (desk.devices.own.value?.access !== 'coach') return null;
  return (
    <p class="strip calm" role="status" data-only-coach>
      This desk is paired as a coach: it reads everything, puts practices on the wall and runs them. Writing practices
      and changing the squad and the settings is for owners; one of them can pair it anew as another desk.
    </p>
  );
}

/** Kept in the page while hidden, so that the editor keeps its undo history and its place. */
function Area({ shown, label, children }: { shown: boolean; label: string; children: ComponentChildren }): JSX.Element {
  return (
    <main class="area" hidden={!shown} aria-label={label} tabIndex={-1}>
      {children}
    </main>
  );
}

export function App({ desk }: { desk: Desk }): JSX.Element {
  const place = usePlace().value;
  const here = place.area;
  useKeys(desk, here);
  return (
    <div class="desk" data-desk>
      <Header desk={desk} area={here} />
      <LinkDown desk={desk} />
      <OnlyCoach desk={desk} />
      <Area shown={here === 'practice'} label="Practice">
        {desk.isEmpty.value && <Welcome desk={desk} />}
        <PracticeArea desk={desk} />
      </Area>
      {here === 'plan' && (
        <Area shown label="Week">
          <PlanArea desk={desk} />
        </Area>
      )}
      {place.area === 'squad' && (
        <Area shown label="Squad">
          {place.swimmer === null ? <SquadArea desk={desk} /> : <SwimmerPage desk={desk} swimmer={place.swimmer} />}
        </Area>
      )}
      {here === 'today' && (
        <Area shown label="Today">
          <TodayArea desk={desk} />
        </Area>
      )}
      {place.area === 'results' && (
        <Area shown label="Results">
          <ResultsPages desk={desk} place={place} />
        </Area>
      )}
      <QuestionDialog questions={desk.questions} />
      <Conflict desk={desk} />
      <KeysDialog desk={desk} />
      <KeyBegun desk={desk} />
    </div>
  );
}
