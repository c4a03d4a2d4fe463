import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type Course, DEFAULT_POOL } from '../../shared-types/pool.ts';
import { STYLES } from '../../shared-types/practice.ts';
import type { Week } from '../../shared-types/results.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { WeeksAnswer } from '../../shared-types/wire/history.ts';
import type { Desk } from './desk.ts';
import { ProblemNote } from './problem-note.tsx';
import { RehearsedTick } from './rehearsed-tick.tsx';
import { TableFrame } from './table-frame.tsx';
import { leftOutWords, metresText, minutesText, setsText, weekSpan, wholeWeek } from './weeks-words.ts';

const byName = (labels: Labels): readonly (readonly [string, string])[] =>
  Object.entries(labels).sort(([, a], [, b]) => a.localeCompare(b, 'en'));

/** An id that the server has named, as it was written in the page. */
const swimmerNamed = ({ weeks }: Desk, id: string): SwimmerId | null => {
  const read = swimmerIdSchema.safeParse(id);
  return read.success && weeks.shown.value?.labels[read.data] !== undefined ? read.data : null;
};

function Choices({ desk }: { desk: Desk }): JSX.Element {
  const { weeks } = desk;
  return (
    <div class="weeks-choices">
      <label>
        <span>Seven days up to</span>
        <input
          type="date"
          data-week-day
          value={weeks.day.value ?? ''}
          onChange={({ currentTarget }) => void weeks.endOn(currentTarget.value || null)}
        />
      </label>
      <label>
        <span>Of</span>
        <select
          data-week-of
          value={weeks.swimmer.value ?? 'squad'}
          onChange={({ currentTarget }) => void weeks.of(swimmerNamed(desk, currentTarget.value))}
        >
          <option value="squad">The squad</option>
          {byName(weeks.shown.value?.labels ?? {}).map(([swimmer, name]) => (
            <option key={swimmer} value={swimmer}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <RehearsedTick counting={weeks}>Rehearsed practices, too</RehearsedTick>
    </div>
  );
}

function LastWeek({ week, course }: { week: Week; course: Course }): JSX.Element {
  return (
    <section class="card" aria-label="The last seven days">
      <h2>{weekSpan(week)}</h2>
      <p class="left-out" data-left-out>
        {leftOutWords(week)}
      </p>
      {week.byStyle.length > 0 && (
        <table class="times-table">
          <thead>
            <tr>
              <th scope="col">Style</th>
              <th scope="col">Sets</th>
              <th scope="col">Distance</th>
              <th scope="col">Time</th>
            </tr>
          </thead>
          <tbody>
            {week.byStyle.map((own) => (
              <tr key={own.style} data-style={own.style}>
                <th scope="row">{own.style}</th>
                <td>{own.sets}</td>
                <td>{metresText(own, course)}</td>
                <td>{minutesText(own)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function WeekCell({ own, course }: { own: ReturnType<typeof wholeWeek> | undefined; course: Course }): JSX.Element {
  if (!own || own.sets === 0) {
    return (
      <td>
        <span class="visually-hidden">none</span>
      </td>
    );
  }
  return (
    <td>
      <strong>{minutesText(own)}</strong>
      <span>{setsText(own)}</span>
      <span>{metresText(own, course)}</span>
    </td>
  );
}

function Grid({ weeks, course }: { weeks: readonly Week[]; course: Course }): JSX.Element {
  return (
    <TableFrame label="Weeks by style">
      <table class="times-table weeks-grid">
        <thead>
          <tr>
            <th scope="col">Seven days</th>
            {STYLES.map((style) => (
              <th key={style} scope="col">
                {style}
              </th>
            ))}
            <th scope="col">all</th>
          </tr>
        </thead>
        <tbody>
          {weeks.map((week) => (
            <tr key={week.day} data-week={week.day}>
              <th scope="row">{weekSpan(week)}</th>
              {STYLES.map((style) => (
                <WeekCell key={style} own={week.byStyle.find((own) => own.style === style)} course={course} />
              ))}
              <WeekCell own={wholeWeek(week)} course={course} />
            </tr>
          ))}
        </tbody>
      </table>
    </TableFrame>
  );
}

const MEANINGS = {
  squad: 'Of the squad each set counts once, with the mean distance and time of those who swam it.',
  swimmer: 'Distance and time are what this swimmer really left on.',
} as const;

function Weeks({ desk, answer }: { desk: Desk; answer: WeeksAnswer }): JSX.Element {
  const [last] = answer.weeks;
  const course = desk.squad.pool.value?.course ?? DEFAULT_POOL.course;
  return (
    <div class="weeks" data-weeks={last?.day} aria-busy={desk.weeks.isBehind.value}>
      {last && <LastWeek week={last} course={course} />}
      <section class="card" aria-label="Week by week">
        <h2>Week by week</h2>
        <p class="quiet">
          {MEANINGS[desk.weeks.swimmer.value === null ? 'squad' : 'swimmer']} Time is that of the send-offs, rests
          between reps included.
        </p>
        <Grid weeks={answer.weeks} course={course} />
        {desk.weeks.more.value && (
          <button type="button" class="plain" data-action="more-weeks" onClick={() => void desk.weeks.showMore()}>
            Show a whole year
          </button>
        )}
      </section>
    </div>
  );
}

/** What the weeks had in them, style by style, and what they have left out. */
export function WeeksArea({ desk }: { desk: Desk }): JSX.Element {
  const { weeks } = desk;
  useEffect(() => void weeks.reload(), [weeks]);
  const answer = weeks.shown.value;
  return (
    <div class="weeks-area">
      <Choices desk={desk} />
      <ProblemNote problem={weeks.problem.value} />
      {answer && <Weeks desk={desk} answer={answer} />}
      {!answer && !weeks.problem.value && <p class="quiet">Loading…</p>}
    </div>
  );
}
