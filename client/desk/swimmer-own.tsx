import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';
import { isProblem, LONGEST, type OwnFields, ownFieldsOf, withOwn } from './swimmer-fields.ts';

const FIELDS: readonly { readonly name: Exclude<keyof OwnFields, 'category'>; readonly label: string }[] = [
  { name: 'name', label: 'Name' },
  { name: 'short', label: 'Short name, for walls' },
  { name: 'group', label: 'Pace group' },
  { name: 'main', label: 'Main event' },
];
const SIZES = { name: 22, short: 12, group: 3, main: 12 } as const;

interface Props {
  readonly swimmer: Swimmer;
  /** What the button says. */
  readonly label: string;
  /** @returns whether it was saved */
  readonly save: (next: Swimmer) => Promise<boolean>;
}

/** Who a swimmer is. */
export function SwimmerOwn({ swimmer, label, save }: Props): JSX.Element {
  const fields = useSignal<OwnFields>(ownFieldsOf(swimmer));
  const unread = useSignal<Problem | null>(null);
  const id = useId();
  const set = (more: Partial<OwnFields>): void => {
    fields.value = { ...fields.value, ...more };
  };
  const submit = (): void => {
    const read = withOwn(swimmer, fields.value);
    unread.value = isProblem(read) ? read : null;
    if (!isProblem(read)) void save(read);
  };
  return (
    <form
      class="card pool"
      aria-label="Swimmer"
      onSubmit={(event) => {
        event.preventDefault();
        submit();
      }}
    >
      <div class="fields">
        {FIELDS.map(({ name, label: words }) => (
          <div key={name} class="field">
            <label for={`${id}-${name}`}>{words}</label>
            <input
              id={`${id}-${name}`}
              name={name}
              size={SIZES[name]}
              maxLength={name === 'name' || name === 'short' ? LONGEST[name] : undefined}
              placeholder={name === 'short' ? 'first name' : undefined}
              value={fields.value[name]}
              onInput={({ currentTarget }) => set({ [name]: currentTarget.value })}
            />
          </div>
        ))}
        <div class="field">
          <label for={`${id}-category`}>Category</label>
          <select
            id={`${id}-category`}
            name="category"
            value={fields.value.category}
            onChange={({ currentTarget }) => set({ category: currentTarget.value })}
          >
            <option value="">not said</option>
            <option value="women">women</option>
            <option value="men">men</option>
          </select>
        </div>
      </div>
      <div class="actions">
        <button type="submit" class="strong" data-action="save-swimmer">
          {label}
        </button>
      </div>
      <ProblemNote problem={unread.value} />
    </form>
  );
}
