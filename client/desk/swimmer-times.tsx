import { type Signal, useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { isolated } from '../../shared-types/isolated.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { eventText, howTaken, type Reference, referenceTime, type Swimmer } from '../../shared-types/squad.ts';
import { dateText, formatSwimTime } from '../../shared-types/time.ts';
import type { Desk } from './desk.ts';
import { ForOwners, isOwners } from './for-owners.tsx';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';
import {
  isProblem,
  noTime,
  splitWords,
  type TimeFields,
  timeFieldsOf,
  timeFrom,
  withoutMean,
  withoutTime,
  withTime,
} from './swimmer-fields.ts';
import { TimeFieldsRow } from './swimmer-time-fields.tsx';
import { TableFrame } from './table-frame.tsx';

/** `200 free SCM, best`: which of a swimmer's times it is. */
const timeWords = ({ event, course, kind }: Reference): string => `${eventText(event)} ${course}, ${kind}`;

interface Editing {
  /** The time that is changed; null: one is added. */
  readonly time: Reference | null;
  readonly fields: TimeFields;
}

interface TimesProps {
  readonly desk: Desk;
  readonly swimmer: Swimmer;
}

interface RowProps extends TimesProps {
  readonly editing: Signal<Editing | null>;
}

function Time({ desk, swimmer, editing, time }: RowProps & { time: Reference }): JSX.Element {
  const words = timeWords(time);
  const take = (): void => {
    const undo = `Undo: ${words} of ${isolated(swimmer.name)}`;
    void desk.swimmer.save(withoutTime(swimmer, time), { done: `${words} is taken out.`, undo });
  };
  return (
    <tr data-time={words}>
      <th scope="row">{eventText(time.event)}</th>
      <td>{time.course}</td>
      <td class="figure">{referenceTime(time)}</td>
      <td>{time.kind}</td>
      <td>{time.date === undefined ? '' : dateText(time.date)}</td>
      <td class="quiet">{[...howTaken(time), splitWords(time)].filter((part) => part !== '').join('; ')}</td>
      <td class="row-actions">
        <ForOwners desk={desk}>
          <button
            type="button"
            data-action="change-time"
            aria-label={`Change ${words}`}
            onClick={() => {
              editing.value = { time, fields: timeFieldsOf(time) };
            }}
          >
            Change
          </button>
          <button
            type="button"
            data-action="remove-time"
            aria-label={`Take out ${words}`}
            disabled={desk.swimmer.busy.value}
            onClick={take}
          >
            Take out
          </button>
        </ForOwners>
      </td>
    </tr>
  );
}

function Means({ desk, swimmer }: TimesProps): JSX.Element | null {
  const { means = [] } = swimmer;
  if (means.length === 0) return null;
  return (
    <section aria-label="Means of sets">
      <h3>Means of sets</h3>
      <ul class="means">
        {means.map((mean) => (
          <li key={JSON.stringify(mean)}>
            <strong>{formatSwimTime(mean.meanMs, mean.handTimed ? 1 : 2)}</strong>
            <span>
              {mean.set}, {mean.sendOff}
              {mean.date !== undefined && <span class="quiet"> ({dateText(mean.date)})</span>}
            </span>
            <ForOwners desk={desk}>
              <button
                type="button"
                data-action="remove-mean"
                aria-label={`Take out the mean of ${mean.set}, ${mean.sendOff}`}
                disabled={desk.swimmer.busy.value}
                onClick={() =>
                  void desk.swimmer.save(withoutMean(swimmer, mean), {
                    done: 'The mean is taken out.',
                    undo: `Undo: mean of ${mean.set} of ${isolated(swimmer.name)}`,
                  })
                }
              >
                Take out
              </button>
            </ForOwners>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Entry({ desk, swimmer, editing }: RowProps): JSX.Element {
  const unread = useSignal<Problem | null>(null);
  const course = desk.squad.pool.value?.course ?? DEFAULT_POOL.course;
  const open = editing.value ?? { time: null, fields: noTime(course) };
  const save = async (): Promise<void> => {
    const read = timeFrom(open.fields, open.time);
    const next = isProblem(read) ? null : withTime(swimmer, read, open.time);
    unread.value = isProblem(read)
      ? read
      : next
        ? null
        : { message: `${isolated(swimmer.name)} has that time already.` };
    if (isProblem(read) || !next) return;
    const words = timeWords(read);
    const undo = `Undo: ${words} of ${isolated(swimmer.name)}`;
    if (await desk.swimmer.save(next, { done: `${words} ${referenceTime(read)} is saved.`, undo }))
      editing.value = null;
  };
  return (
    <form
      class="time-entry"
      aria-label={open.time ? `Change ${timeWords(open.time)}` : 'Add a time'}
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <TimeFieldsRow
        fields={open.fields}
        onFields={(fields) => {
          editing.value = { ...open, fields };
        }}
      />
      <div class="actions">
        <button type="submit" data-action="save-time" disabled={desk.swimmer.busy.value}>
          {open.time ? 'Save the time' : 'Add the time'}
        </button>
        {open.time && (
          <button
            type="button"
            onClick={() => {
              editing.value = null;
              unread.value = null;
            }}
          >
            Leave it as it was
          </button>
        )}
      </div>
      <ProblemNote problem={unread.value} />
    </form>
  );
}

/** The times that targets come from; each can be changed and taken out, others added. */
export function SwimmerTimes({ desk, swimmer }: TimesProps): JSX.Element {
  const editing = useSignal<Editing | null>(null);
  return (
    <>
      <section aria-label="Times targets come from">
        <h3>Times targets come from</h3>
        {swimmer.references.length === 0 ? (
          <p class="quiet">No times yet, so there are no targets. Add one below.</p>
        ) : (
          <TableFrame label="Times">
            <table class="times-table swimmer-times">
              <thead>
                <tr>
                  <th scope="col">Event</th>
                  <th scope="col">Course</th>
                  <th scope="col" class="figure">
                    Time
                  </th>
                  <th scope="col">Kind</th>
                  <th scope="col">Date</th>
                  <th scope="col">How</th>
                  <td />
                </tr>
              </thead>
              <tbody>
                {swimmer.references.map((time) => (
                  <Time key={JSON.stringify(time)} desk={desk} swimmer={swimmer} editing={editing} time={time} />
                ))}
              </tbody>
            </table>
          </TableFrame>
        )}
        {isOwners(desk) && <Entry desk={desk} swimmer={swimmer} editing={editing} />}
      </section>
      <Means desk={desk} swimmer={swimmer} />
    </>
  );
}
