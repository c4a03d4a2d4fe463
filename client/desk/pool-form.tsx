import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Pool } from '../../shared-types/pool.ts';
import type { Desk } from './desk.ts';
import { fieldsOf, POOL_FORM, type PoolFields, poolFrom } from './pool-fields.ts';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';

const isProblem = (read: Pool | Problem): read is Problem => 'message' in read;

interface FieldProps {
  readonly field: (typeof POOL_FORM)[number];
  readonly id: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
}

function Field({ field, id, value, onValue }: FieldProps): JSX.Element {
  if (field.kind === 'choice') {
    return (
      <select id={id} name={field.name} value={value} onChange={({ currentTarget }) => onValue(currentTarget.value)}>
        {field.options.map(({ value: one, words }) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    );
  }
  return (
    <input
      id={id}
      name={field.name}
      inputMode={field.numeric ? 'numeric' : 'text'}
      size={6}
      value={value}
      onInput={({ currentTarget }) => onValue(currentTarget.value)}
    />
  );
}

/** The pool, how long it is booked, and what the coach means by pace, percent and easy. */
export function PoolForm({ desk, pool }: { desk: Desk; pool: Pool }): JSX.Element {
  const fields = useSignal<PoolFields>(fieldsOf(pool));
  const unread = useSignal<Problem | null>(null);
  const id = useId();
  const save = (): void => {
    const read = poolFrom(fields.value, pool);
    unread.value = isProblem(read) ? read : null;
    if (!isProblem(read)) void desk.squad.savePool(read);
  };
  return (
    <form
      class="card pool"
      aria-label="Pool"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <h2>Pool</h2>
      <div class="fields">
        {POOL_FORM.map((field) => (
          <div key={field.name} class="field">
            <label for={`${id}-${field.name}`}>{field.label}</label>
            <Field
              field={field}
              id={`${id}-${field.name}`}
              value={fields.value[field.name]}
              onValue={(value) => {
                fields.value = { ...fields.value, [field.name]: value };
              }}
            />
          </div>
        ))}
      </div>
      <div class="actions">
        <button type="submit" data-action="save-pool">
          Save the pool
        </button>
      </div>
      <ProblemNote problem={unread.value ?? desk.squad.poolProblem.value} />
    </form>
  );
}
