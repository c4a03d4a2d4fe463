import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { COURSES, type Course, courseSchema, type Pool } from '../../shared-types/pool.ts';
import { formatClock, parseSwimTime } from '../../shared-types/time.ts';
import type { Desk } from './desk.ts';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';

const COURSE_WORDS: Readonly<Record<Course, string>> = {
  SCY: 'Short course, 25 yards',
  SCM: 'Short course, 25 metres',
  LCM: 'Long course, 50 metres',
};

interface Fields {
  readonly course: Course;
  readonly lanes: string;
  readonly apart: string;
}

/** The pool as the fields say it, or what cannot be read. */
function poolFrom(fields: Fields, pool: Pool): Pool | Problem {
  const lanes = Number(fields.lanes);
  if (!Number.isInteger(lanes) || lanes < 1 || lanes > 12) {
    return { message: `“${fields.lanes}” lanes cannot be used.`, fix: 'Write a whole number from 1 to 12.' };
  }
  const apartMs = parseSwimTime(fields.apart.trim());
  if (apartMs === null) return { message: `“${fields.apart}” is not a time.`, fix: 'Write :05 or 5s.' };
  return { ...pool, course: fields.course, lanes, apartMs };
}

const isProblem = (read: Pool | Problem): read is Problem => 'message' in read;

/** Course, lanes and the usual gap between swimmers of a lane. */
export function PoolForm({ desk, pool }: { desk: Desk; pool: Pool }): JSX.Element {
  const fields = useSignal<Fields>({
    course: pool.course,
    lanes: String(pool.lanes),
    apart: formatClock(pool.apartMs),
  });
  const unread = useSignal<Problem | null>(null);
  const id = useId();
  const set = (change: Partial<Fields>): void => {
    fields.value = { ...fields.value, ...change };
  };
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
        <label for={`${id}-course`}>Course</label>
        <select
          id={`${id}-course`}
          value={fields.value.course}
          onChange={({ currentTarget }) => set({ course: courseSchema.parse(currentTarget.value) })}
        >
          {COURSES.map((course) => (
            <option key={course} value={course}>
              {COURSE_WORDS[course]}
            </option>
          ))}
        </select>
        <label for={`${id}-lanes`}>Lanes</label>
        <input
          id={`${id}-lanes`}
          inputMode="numeric"
          size={4}
          value={fields.value.lanes}
          onInput={({ currentTarget }) => set({ lanes: currentTarget.value })}
        />
        <label for={`${id}-apart`}>Gap between swimmers</label>
        <input
          id={`${id}-apart`}
          size={6}
          value={fields.value.apart}
          onInput={({ currentTarget }) => set({ apart: currentTarget.value })}
        />
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
