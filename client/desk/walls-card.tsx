import type { JSX } from 'preact';
import type { WallInfo } from '../../shared-types/wire/walls.ts';
import type { Desk } from './desk.ts';
import { ForOwners, isOwners } from './for-owners.tsx';
import { ProblemNote } from './problem-note.tsx';
import { syncWords } from './today-words.ts';
import { WallForm } from './wall-form.tsx';
import { calledOf, presenceWords, readableWords, setWords } from './wall-words.ts';

/** [SYN5] Shown where a screen's clock is not known well enough. */
export function ClockWarning(): JSX.Element {
  return (
    <p class="clock-warning" role="status">
      A clock that is not known to within 50 ms may show a send-off too early or too late. Look at that screen’s
      network: nearer to the access point, or on a cable, it gets better by itself.
    </p>
  );
}

const clockWords = (wall: WallInfo): ReturnType<typeof syncWords> =>
  wall.connected ? syncWords(wall) : { words: '–', warn: false };

function WallRow({ desk, wall }: { desk: Desk; wall: WallInfo }): JSX.Element {
  const { walls, link } = desk;
  const { number, settings, device, connected } = wall;
  const clock = clockWords(wall);
  const readable = readableWords(wall);
  return (
    <tr data-screen="wall" data-wall={number} data-connected={connected} data-warn={clock.warn}>
      <th scope="row">
        <div class="wall">
          <span class="wall-number">{number}</span>
          <span>
            <bdi>{settings?.name ?? `Wall ${number}`}</bdi>
            <small>{setWords(wall)}</small>
            <small>{presenceWords(wall, link.settings.value)}</small>
          </span>
        </div>
      </th>
      <td class={clock.warn ? 'uncertain' : ''}>{clock.words}</td>
      <td class={readable.cure === '' ? '' : 'uncertain'} data-readable>
        {readable.words}
        {readable.cure && <small>{readable.cure}</small>}
      </td>
      <td>
        <div class="actions">
          <ForOwners desk={desk}>
            <button
              type="button"
              data-action="set-wall"
              aria-label={`Set up ${calledOf(wall)}`}
              onClick={() => walls.setUp(device)}
            >
              Set up
            </button>
          </ForOwners>
          {connected ? (
            <button
              type="button"
              data-action="identify"
              aria-label={`Identify ${calledOf(wall)}`}
              onClick={() => void walls.identify(device)}
            >
              Identify
            </button>
          ) : (
            <ForOwners desk={desk}>
              <button
                type="button"
                data-action="forget-wall"
                aria-label={`Forget ${calledOf(wall)}`}
                onClick={() => void walls.forget(wall)}
              >
                Forget
              </button>
            </ForOwners>
          )}
        </div>
      </td>
    </tr>
  );
}

function WallTable({ desk }: { desk: Desk }): JSX.Element {
  const walls = desk.link.walls.value;
  return (
    <table class="screens walls">
      <thead>
        <tr>
          <th scope="col">Wall</th>
          <th scope="col">Clock agrees</th>
          <th scope="col">{desk.link.practice.value ? 'Board' : 'Pace clock'}</th>
          <th scope="col">
            <span class="visually-hidden">What to do</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {walls.map((wall) => (
          <WallRow key={wall.device} desk={desk} wall={wall} />
        ))}
      </tbody>
    </table>
  );
}

/** The walls, by the number that each shows, and how each is set up. */
export function Walls({ desk }: { desk: Desk }): JSX.Element {
  const walls = desk.link.walls.value;
  const open = walls.find(({ device }) => device === desk.walls.open.value);
  return (
    <section class="card walls-card" aria-label="Walls">
      <h2>Walls</h2>
      {walls.length === 0 ? (
        <p class="quiet">
          None yet. {isOwners(desk) ? 'Pair the TV, above' : 'An owner pairs the TV'}: its wall then shows a number,
          under which it is set up from here.
        </p>
      ) : (
        <WallTable desk={desk} />
      )}
      {walls.some((wall) => clockWords(wall).warn) && <ClockWarning />}
      <ProblemNote problem={desk.walls.problem.value} />
      {open && <WallForm key={open.device} walls={desk.walls} wall={open} />}
    </section>
  );
}
