import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { courseNamed, kindNamed, TIME_CHOICES, type TimeFields } from './swimmer-fields.ts';

interface Props {
  readonly fields: TimeFields;
  readonly onFields: (fields: TimeFields) => void;
}

interface ChoiceProps {
  readonly id: string;
  readonly name: string;
  readonly options: readonly (readonly [value: string, words: string])[];
  readonly value: string;
  readonly onValue: (value: string) => void;
}

function Choice({ id, name, options, value, onValue }: ChoiceProps): JSX.Element {
  return (
    <select id={id} name={name} value={value} onChange={({ currentTarget }) => onValue(currentTarget.value)}>
      {options.map(([one, words]) => (
        <option key={one} value={one}>
          {words}
        </option>
      ))}
    </select>
  );
}

const asOptions = (values: readonly string[]) => values.map((value) => [value, value] as const);
const STARTS = [
  ['', 'not said'],
  ['dive', 'dive'],
  ['push', 'push'],
] as const;

/** What is typed of one time. */
export function TimeFieldsRow({ fields, onFields }: Props): JSX.Element {
  const id = useId();
  const set = (more: Partial<TimeFields>): void => onFields({ ...fields, ...more });
  return (
    <div class="time-fields">
      <label for={`${id}-event`}>
        Event
        <input
          id={`${id}-event`}
          name="event"
          size={11}
          placeholder="200 free"
          value={fields.event}
          onInput={({ currentTarget }) => set({ event: currentTarget.value })}
        />
      </label>
      <label for={`${id}-time`}>
        Time
        <input
          id={`${id}-time`}
          name="time"
          size={8}
          inputMode="decimal"
          placeholder="1:58.40"
          value={fields.time}
          onInput={({ currentTarget }) => set({ time: currentTarget.value })}
        />
      </label>
      <label for={`${id}-course`}>
        Course
        <Choice
          id={`${id}-course`}
          name="course"
          options={asOptions(TIME_CHOICES.course)}
          value={fields.course}
          onValue={(course) => set({ course: courseNamed(course) })}
        />
      </label>
      <label for={`${id}-kind`}>
        Kind
        <Choice
          id={`${id}-kind`}
          name="kind"
          options={asOptions(TIME_CHOICES.kind)}
          value={fields.kind}
          onValue={(kind) => set({ kind: kindNamed(kind) })}
        />
      </label>
      <label for={`${id}-date`}>
        Date
        <input
          id={`${id}-date`}
          name="date"
          type="date"
          value={fields.date}
          onChange={({ currentTarget }) => set({ date: currentTarget.value })}
        />
      </label>
      <label for={`${id}-start`}>
        Start
        <Choice
          id={`${id}-start`}
          name="start"
          options={STARTS}
          value={fields.start}
          onValue={(start) => set({ start })}
        />
      </label>
      <label class="check" for={`${id}-hand`}>
        <input
          id={`${id}-hand`}
          name="hand"
          type="checkbox"
          checked={fields.byHand}
          onChange={({ currentTarget }) => set({ byHand: currentTarget.checked })}
        />
        by hand
      </label>
    </div>
  );
}
