import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { LivePractice } from '../common/live.ts';
import { hereWords } from './absences-model.ts';
import type { Desk } from './desk.ts';
import { HereTick } from './here-tick.tsx';
import { swimmersIn } from './lane-moves.ts';
import { lanesNow } from './lanes-now.ts';
import { ProblemNote } from './problem-note.tsx';
import { TableFrame } from './table-frame.tsx';

/** So often the lanes are looked at anew, ms. */
const TICK_MS = 250;

/** What every lane is doing. */
export function LanesNow({ desk: { link }, live }: { desk: Desk; live: LivePractice }): JSX.Element {
  const now = useSignal(link.clock.now());
  useEffect(() => {
    const timer = setInterval(() => {
      now.value = link.clock.now();
    }, TICK_MS);
    return () => clearInterval(timer);
  }, [link, now]);
  return (
    <section class="card lanes-now" aria-label="Lanes now">
      <h2>Lanes now</h2>
      <TableFrame label="What each lane is doing">
        <table class="screens">
          <thead>
            <tr>
              {['Lane', 'Doing', 'On', 'Leaves', 'Next to leave'].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {lanesNow(live, now.value, link.settings.value).map(({ lane, group, doing, rep, next, turn }) => (
              <tr key={lane} data-lane-now={lane}>
                <th scope="row">
                  {lane} <span class="quiet">{group}</span>
                </th>
                <td>{doing}</td>
                <td>{rep}</td>
                <td>{next}</td>
                <td translate={false}>
                  <bdi>{turn}</bdi>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
    </section>
  );
}

function LaneHere({ desk, title, swimmers }: { desk: Desk; title: string; swimmers: readonly Swimmer[] }): JSX.Element {
  return (
    <li>
      <strong>{title}</strong>
      <div class="ticks">
        {swimmers.map((swimmer) => (
          <HereTick key={swimmer.id} absences={desk.absences} swimmer={swimmer}>
            <bdi>{swimmer.name}</bdi>
          </HereTick>
        ))}
      </div>
    </li>
  );
}

/** Who is here, lane by lane; who has none yet is on the squad page. */
export function HereToday({ desk }: { desk: Desk }): JSX.Element | null {
  const swimmers = desk.squad.squad.value?.swimmers ?? [];
  const lanes = [...new Set(swimmers.flatMap(({ lane }) => lane ?? []))].sort((a, b) => a - b);
  if (lanes.length === 0) return null;
  return (
    <section class="card here-today" aria-label="Who is here today">
      <h2>Who is here today</h2>
      <p class="quiet">
        {hereWords(swimmers, desk.absences.away.value)}. Lanes are changed on the <a href="#squad">squad page</a>.
      </p>
      <ProblemNote problem={desk.absences.problem.value} />
      <ul>
        {lanes.map((lane) => (
          <LaneHere key={lane} desk={desk} title={`Lane ${lane}`} swimmers={swimmersIn(swimmers, lane)} />
        ))}
      </ul>
    </section>
  );
}

/** What is planned for today, each at a press from the wall. */
export function PlannedToday({ desk }: { desk: Desk }): JSX.Element {
  const { today, wall } = desk;
  useEffect(() => void today.reload(), [today]);
  const planned = today.planned.value ?? [];
  return (
    <section class="planned-today" aria-label="Planned today">
      <h3>Planned today</h3>
      {planned.length === 0 ? (
        <p class="quiet">
          {today.planned.value ? (
            <>
              Nothing: lay practices on days on the <a href="#plan">week’s page</a>.
            </>
          ) : (
            'Asking the server…'
          )}
        </p>
      ) : (
        <ul>
          {planned.map(({ practice, title }, place) => (
            <li key={`${practice} ${place}`}>
              <bdi translate={false}>{title ?? 'No longer in the library'}</bdi>
              <button
                type="button"
                data-put-on={practice}
                disabled={title === null || wall.busy.value}
                aria-label={`Put on the wall: ${isolated(title ?? 'a practice that is gone')}`}
                onClick={() => void today.putOn(practice)}
              >
                Put on the wall
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
