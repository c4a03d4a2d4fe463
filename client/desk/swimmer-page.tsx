import { useSignal } from '@preact/signals';
import type { ComponentChildren, JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { SwimmerAnswer } from '../../shared-types/wire/swimmer.ts';
import { newSwimmerId } from '../common/ids.ts';
import { NEW_SWIMMER, swimmerAddress } from './address.ts';
import type { Desk } from './desk.ts';
import { ForOwners, isOwners } from './for-owners.tsx';
import { SwimmerStored } from './privacy-swimmer.tsx';
import { ProblemNote } from './problem-note.tsx';
import { ownFieldsOf } from './swimmer-fields.ts';
import { SwimmerOwn } from './swimmer-own.tsx';
import { SwimmerSets } from './swimmer-sets.tsx';
import { SwimmerTimes } from './swimmer-times.tsx';

/** `lane 3, group B`, `no lane` */
const placeWords = ({ lane, group }: Swimmer): string =>
  [lane === undefined ? 'no lane' : `lane ${lane}`, ...(group === undefined ? [] : [`group ${group}`])].join(', ');

function Thresholds({ thresholds }: Pick<SwimmerAnswer, 'thresholds'>): JSX.Element {
  return (
    <section aria-label="Threshold">
      <h3>Threshold</h3>
      {thresholds.length === 0 ? (
        <p class="quiet">
          Not known: it needs a test of 30 minutes or 3000, or two times of one stroke over 200 or more.
        </p>
      ) : (
        <dl class="thresholds">
          {thresholds.map(({ what, per100Ms, from, estimate }) => (
            <div key={what} data-threshold={what}>
              <dt>{what}</dt>
              <dd>
                <strong>
                  {estimate !== null && '~'}
                  {formatSwimTime(Math.round(per100Ms), 1)}
                </strong>{' '}
                per 100, <span class="quiet">{from}</span>
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}

/** What has just been done, and the button that takes it back. */
export function SwimmerUndo({ desk: { swimmer } }: { desk: Desk }): JSX.Element | null {
  const step = swimmer.lastStep.value;
  if (!step) return null;
  return (
    <button type="button" data-action="undo-swimmer" disabled={swimmer.busy.value} onClick={() => void swimmer.undo()}>
      {step.words}
    </button>
  );
}

function Side({ desk, children }: { desk: Desk; children: ComponentChildren }): JSX.Element {
  return (
    <div class="squad-side">
      <p class="done" role="status">
        {desk.squad.done.value}
      </p>
      <SwimmerUndo desk={desk} />
      <ProblemNote problem={desk.swimmer.problem.value} />
      {children}
    </div>
  );
}

function Remove({ desk, swimmer: { name } }: { desk: Desk; swimmer: Swimmer }): JSX.Element {
  const remove = async (): Promise<void> => {
    if (await desk.swimmer.remove()) location.hash = '#squad';
  };
  return (
    <div class="actions">
      <button
        type="button"
        data-action="remove-swimmer"
        disabled={desk.swimmer.busy.value}
        onClick={() => void remove()}
      >
        <span>
          Take <bdi>{name}</bdi> out of the squad
        </span>
      </button>
    </div>
  );
}

function Known({ desk, answer }: { desk: Desk; answer: SwimmerAnswer }): JSX.Element {
  const { swimmer } = answer;
  const save = (next: Swimmer): Promise<boolean> =>
    desk.swimmer.save(next, {
      done: `${isolated(next.name)} is saved.`,
      undo: `Undo: changes to ${isolated(swimmer.name)}`,
    });
  return (
    <div class="squad" data-swimmer-page={swimmer.id}>
      <div class="squad-list">
        <p>
          <a href="#squad">All swimmers</a>
        </p>
        <div class="squad-title">
          <h2>
            <bdi>{swimmer.name}</bdi>
          </h2>
          <p class="quiet">{placeWords(swimmer)}</p>
        </div>
        <SwimmerTimes desk={desk} swimmer={swimmer} />
        <Thresholds thresholds={answer.thresholds} />
        <SwimmerSets desk={desk} answer={answer} />
      </div>
      <Side desk={desk}>
        <ForOwners desk={desk}>
          <SwimmerOwn
            key={JSON.stringify(ownFieldsOf(swimmer))}
            swimmer={swimmer}
            label="Save the swimmer"
            save={save}
          />
          <Remove desk={desk} swimmer={swimmer} />
        </ForOwners>
        {isOwners(desk) && <SwimmerStored desk={desk} swimmer={swimmer} />}
      </Side>
    </div>
  );
}

function New({ desk }: { desk: Desk }): JSX.Element {
  const swimmer = useSignal<Swimmer>({ id: newSwimmerId(), name: '', references: [] }).value;
  const add = async (next: Swimmer): Promise<boolean> => {
    const isIn = await desk.swimmer.add(next);
    if (isIn) location.hash = swimmerAddress(next.id);
    return isIn;
  };
  return (
    <div class="squad">
      <div class="squad-list">
        <p>
          <a href="#squad">All swimmers</a>
        </p>
        <h2>A new swimmer</h2>
        <p class="quiet">With a name the swimmer is in the squad; times and lane come next.</p>
      </div>
      <Side desk={desk}>
        <SwimmerOwn swimmer={swimmer} label="Add to the squad" save={add} />
      </Side>
    </div>
  );
}

/** One swimmer: who, what times targets come from, and what was swum. */
export function SwimmerPage({ desk, swimmer }: { desk: Desk; swimmer: SwimmerId | typeof NEW_SWIMMER }): JSX.Element {
  const chosen = swimmer === NEW_SWIMMER ? null : swimmer;
  useEffect(() => {
    void desk.swimmer.choose(chosen);
  }, [desk, chosen]);
  if (chosen === null) return <New desk={desk} />;
  const answer = desk.swimmer.shown.value;
  if (answer?.swimmer.id === chosen) return <Known desk={desk} answer={answer} />;
  return (
    <div class="squad">
      <div class="squad-list">
        <p>
          <a href="#squad">All swimmers</a>
        </p>
        <ProblemNote problem={desk.swimmer.problem.value} />
        <SwimmerUndo desk={desk} />
        {!desk.swimmer.problem.value && <p class="quiet">Loading the swimmer…</p>}
      </div>
    </div>
  );
}
