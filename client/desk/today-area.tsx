import type { JSX } from 'preact';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';
import type { LivePractice } from '../common/live.ts';
import type { Desk } from './desk.ts';
import { Devices, PairDevice } from './devices-card.tsx';
import { placesOf } from './devices-words.ts';
import { isOwners } from './for-owners.tsx';
import { ProblemNote } from './problem-note.tsx';
import { distanceWords, secondsText } from './sheet-words.ts';
import { HereToday, LanesNow, PlannedToday } from './today-lanes.tsx';
import { sizeWords, stateWords, syncWords } from './today-words.ts';
import { wallTitle } from './wall-model.ts';
import { ClockWarning, Walls } from './walls-card.tsx';

const isUnderWay = ({ run }: LivePractice): boolean => run.state === 'running' || run.state === 'held';

function LivePracticeFacts({ desk, live }: { desk: Desk; live: LivePractice }): JSX.Element {
  const { sheet, run } = live;
  return (
    <>
      <p class="live-title" data-live-title>
        <bdi>{wallTitle(live)}</bdi>
      </p>
      <p class="live-state" data-live-state={run.state}>
        {stateWords(run.state)}
      </p>
      <p class="quiet">
        {sheet.lanes.length} lanes, {distanceWords(sheet.distance, sheet.course)}, {secondsText(sheet.durationMs)}
      </p>
      <div class="actions">
        <button
          type="button"
          data-action="take-off"
          disabled={isUnderWay(live) || desk.wall.busy.value}
          aria-describedby="take-off-how"
          onClick={() => void desk.wall.takeOff()}
        >
          Take it off the wall
        </button>
        <span class="quiet" id="take-off-how">
          {isUnderWay(live) ? 'It is being swum: finish it on the deck first.' : 'The wall then shows the pace clock.'}
        </span>
      </div>
    </>
  );
}

function NothingOn(): JSX.Element {
  return (
    <>
      <p class="live-title">Nothing</p>
      <p>
        The wall shows the pace clock. <a href="#practice">Open a practice</a> and press “Put on the wall”.
      </p>
    </>
  );
}

/** By the network's address where this desk was opened by one that is good on this computer only. */
function Addresses({ desk }: { desk: Desk }): JSX.Element {
  const places = placesOf(location, desk.devices.list.value?.addresses ?? []);
  const place = places[0] ?? location.origin;
  return (
    <section class="card" aria-label="Addresses">
      <h2>Open on the other screens</h2>
      <dl class="addresses">
        {(['wall', 'deck'] as const).map((page) => (
          <div key={page}>
            <dt>{page === 'wall' ? 'Wall, the TV' : 'Deck, the tablet'}</dt>
            <dd>
              <a href={`/${page}`} target="_blank" rel="noreferrer">
                {`${place}/${page}`}
              </a>
            </dd>
          </div>
        ))}
      </dl>
      {places.length === 0 && (
        <p class="quiet">
          {isOwners(desk)
            ? 'These work on this computer only: Farwall was started so that no other device can reach it.'
            : 'These work on this computer only; an owner’s desk shows those for other devices.'}
        </p>
      )}
      <PairDevice desk={desk} />
    </section>
  );
}

function ScreenRow({ screen }: { screen: ScreenInfo }): JSX.Element {
  const { words, warn } = syncWords(screen);
  return (
    <tr data-screen={screen.role} data-warn={warn}>
      <th scope="row">
        {screen.role} <code>{screen.device.slice(0, 4)}</code>
      </th>
      <td class={warn ? 'uncertain' : ''}>{words}</td>
      <td>{sizeWords(screen)}</td>
    </tr>
  );
}

function Coaches({ desk }: { desk: Desk }): JSX.Element {
  const screens = desk.link.screens.value.filter(({ role }) => role !== 'wall');
  return (
    <section class="card" aria-label="Decks and desks connected">
      <h2>Decks and desks connected</h2>
      {screens.length === 0 ? (
        <p class="quiet">None that the server knows of.</p>
      ) : (
        <table class="screens">
          <thead>
            <tr>
              <th scope="col">Screen</th>
              <th scope="col">Clock agrees</th>
              <th scope="col">Size</th>
            </tr>
          </thead>
          <tbody>
            {screens.map((screen) => (
              <ScreenRow key={screen.device} screen={screen} />
            ))}
          </tbody>
        </table>
      )}
      {screens.some((screen) => syncWords(screen).warn) && <ClockWarning />}
    </section>
  );
}

/** What is on the wall now, and the screens that show it. */
export function TodayArea({ desk }: { desk: Desk }): JSX.Element {
  const live = desk.link.practice.value;
  return (
    <div class="today">
      <section class="card live" aria-label="On the wall" data-live>
        <h2>On the wall</h2>
        {live ? <LivePracticeFacts desk={desk} live={live} /> : <NothingOn />}
        <ProblemNote problem={desk.wall.problem.value} />
        <PlannedToday desk={desk} />
      </section>
      <Addresses desk={desk} />
      {live && <LanesNow desk={desk} live={live} />}
      <HereToday desk={desk} />
      <Walls desk={desk} />
      <Devices desk={desk} />
      <Coaches desk={desk} />
    </div>
  );
}
