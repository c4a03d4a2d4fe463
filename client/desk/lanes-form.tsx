import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { COURSES, courseSchema, type Pool } from '../../shared-types/pool.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import type { Desk } from './desk.ts';
import { LanesProposalDialog } from './lanes-proposal.tsx';
import { lanesQuestionFrom } from './lanes-question.ts';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';

/** Asks for lanes by the swimmers' times for an event. */
export function LanesForm({ desk, pool }: { desk: Desk; pool: Pool }): JSX.Element {
  const { lanes } = desk;
  const fields = useSignal({ event: '200 free', course: pool.course, capacity: '6' });
  const unread = useSignal<Problem | null>(null);
  const id = useId();
  const set = (more: Partial<typeof fields.value>): void => {
    fields.value = { ...fields.value, ...more };
  };
  const propose = (): void => {
    const read = lanesQuestionFrom(fields.value);
    unread.value = read.ok ? null : read.problem;
    if (read.ok) void lanes.propose(read.question);
  };
  return (
    <form
      class="card pool"
      aria-label="Lanes by pace"
      onSubmit={(event) => {
        event.preventDefault();
        propose();
      }}
    >
      <h2>Lanes by pace</h2>
      <div class="fields">
        <label for={`${id}-event`}>By the times for</label>
        <input
          id={`${id}-event`}
          name="event"
          size={12}
          value={fields.value.event}
          onInput={({ currentTarget }) => set({ event: currentTarget.value })}
        />
        <label for={`${id}-course`}>Course</label>
        <select
          id={`${id}-course`}
          name="course"
          value={fields.value.course}
          onChange={({ currentTarget }) => set({ course: courseSchema.parse(currentTarget.value) })}
        >
          {COURSES.map((course) => (
            <option key={course} value={course}>
              {course}
            </option>
          ))}
        </select>
        <label for={`${id}-capacity`}>Most in a lane (1 to {LIMITS.swimmersPerLane})</label>
        <input
          id={`${id}-capacity`}
          name="capacity"
          inputMode="numeric"
          size={4}
          value={fields.value.capacity}
          onInput={({ currentTarget }) => set({ capacity: currentTarget.value })}
        />
      </div>
      <div class="actions">
        <button type="submit" data-action="propose-lanes">
          Propose lanes
        </button>
      </div>
      <ProblemNote problem={unread.value ?? lanes.proposalProblem.value} />
      <LanesProposalDialog desk={desk} />
    </form>
  );
}
