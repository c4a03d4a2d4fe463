import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import { type Course, DEFAULT_POOL } from '../../shared-types/pool.ts';
import type { Week } from '../../shared-types/results.ts';
import { MOST_A_DAY, type PlannedPractice, type WeekPlan } from '../../shared-types/wire/plan.ts';
import { runAddress } from './address.ts';
import type { Desk } from './desk.ts';
import { ForOwners, isOwners } from './for-owners.tsx';
import { dateOf, weekdayOf } from './plan-days.ts';
import { copiedWords, planLeavesOut, practiceSize, stylesIn } from './plan-words.ts';
import { ProblemNote } from './problem-note.tsx';
import { metresText, minutesText, weekSpan, wholeWeek } from './weeks-words.ts';

type Day = WeekPlan['days'][number];

interface DayProps {
  readonly desk: Desk;
  readonly day: Day;
  readonly days: readonly Day[];
  readonly course: Course;
}

/** Another day is chosen from a list: that works with a finger, a mouse and a keyboard alike. */
function Planned({ desk, day, days, course, one, place }: DayProps & { one: PlannedPractice; place: number }) {
  const title = one.title ?? 'A practice';
  return (
    <li data-planned={one.practice}>
      <button
        type="button"
        class="plain planned-title"
        disabled={one.title === null}
        onClick={() => {
          void desk.library.choose(one.practice);
          location.hash = '#practice';
        }}
      >
        <bdi>{title}</bdi>
      </button>
      <span class="quiet">{practiceSize(one, course)}</span>
      <span class="styles">{one.byStyle.map(({ style }) => style).join(', ')}</span>
      <span class="planned-actions">
        <ForOwners desk={desk}>
          <label>
            <span aria-hidden="true">on</span>
            <span class="visually-hidden">
              Move <bdi>{title}</bdi> to
            </span>
            <select
              value={day.day}
              onChange={({ currentTarget }) => void desk.plan.move(day.day, place, currentTarget.value)}
            >
              {days.map((other) => (
                <option key={other.day} value={other.day}>
                  {weekdayOf(other.day)}
                </option>
              ))}
            </select>
          </label>
          <button type="button" onClick={() => void desk.plan.remove(day.day, place)}>
            Take off
            <span class="visually-hidden">
              {' '}
              {weekdayOf(day.day)}: <bdi>{title}</bdi>
            </span>
          </button>
        </ForOwners>
      </span>
    </li>
  );
}

function AddPractice({ desk, day }: Pick<DayProps, 'desk' | 'day'>): JSX.Element | null {
  const planned = new Set<string>(day.practices.map(({ practice }) => practice));
  const others = desk.library.entries.value.filter(({ id, savedAt }) => savedAt !== null && !planned.has(id));
  if (day.practices.length >= MOST_A_DAY || others.length === 0 || !isOwners(desk)) return null;
  return (
    <label class="add-practice">
      <span class="visually-hidden">Add a practice on {weekdayOf(day.day)}</span>
      <select
        data-add={day.day}
        value=""
        onChange={({ currentTarget }) => {
          const chosen = practiceIdSchema.safeParse(currentTarget.value);
          if (chosen.success) void desk.plan.add(day.day, chosen.data);
        }}
      >
        <option value="">Add a practice…</option>
        {others.map(({ id, title }) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
      </select>
    </label>
  );
}

function DayCard(props: DayProps & { isToday: boolean }): JSX.Element {
  const { desk, day, isToday } = props;
  return (
    <section
      class="card plan-day"
      data-day={day.day}
      aria-label={`${weekdayOf(day.day)} ${dateOf(day.day)}`}
      aria-current={isToday ? 'date' : undefined}
    >
      <h3>
        {weekdayOf(day.day)} <span class="quiet">{dateOf(day.day)}</span>
        {isToday && <span class="badge">today</span>}
      </h3>
      <ol>
        {day.practices.map((one, place) => (
          <Planned key={one.practice} {...props} one={one} place={place} />
        ))}
      </ol>
      <AddPractice desk={desk} day={day} />
      {day.swum.length > 0 && (
        <p class="swum">
          Swum:{' '}
          {day.swum.map(({ run, title }, place) => (
            <span key={run}>
              {place > 0 && ', '}
              <a href={runAddress(run)}>
                <bdi>{title ?? 'a practice'}</bdi>
              </a>
            </span>
          ))}
        </p>
      )}
    </section>
  );
}

const styleOf = ({ byStyle }: Week, style: string) => byStyle.find((own) => own.style === style);

function BalanceCell({ own, course }: { own: ReturnType<typeof wholeWeek> | undefined; course: Course }): JSX.Element {
  return own ? (
    <td>
      <strong>{minutesText(own)}</strong> <span class="quiet">{metresText(own, course)}</span>
    </td>
  ) : (
    <td>
      <span class="visually-hidden">none</span>
    </td>
  );
}

function Balance({ plan, course }: { plan: WeekPlan; course: Course }): JSX.Element {
  return (
    <section class="card" aria-label="Balance of the week">
      <h2>Balance of the week</h2>
      <table class="times-table">
        <thead>
          <tr>
            <th scope="col">Style</th>
            <th scope="col">Planned</th>
            <th scope="col">Swum</th>
          </tr>
        </thead>
        <tbody>
          {stylesIn(plan).map((style) => (
            <tr key={style} data-style={style}>
              <th scope="row">{style}</th>
              <BalanceCell own={styleOf(plan.planned, style)} course={course} />
              <BalanceCell own={styleOf(plan.swum, style)} course={course} />
            </tr>
          ))}
          <tr data-style="all">
            <th scope="row">all</th>
            <BalanceCell own={wholeWeek(plan.planned)} course={course} />
            <BalanceCell own={wholeWeek(plan.swum)} course={course} />
          </tr>
        </tbody>
      </table>
      <p class="quiet">
        Each set counts once, with the mean of those who swim it; rests between sets are not counted. What was only
        rehearsed does not count.
      </p>
    </section>
  );
}

function Turning({ desk, plan }: { desk: Desk; plan: WeekPlan }): JSX.Element {
  const last = plan.days[plan.days.length - 1]?.day ?? plan.today;
  return (
    <div class="plan-turning">
      <h2 data-week={last}>{weekSpan({ day: last })}</h2>
      <button type="button" data-action="week-before" onClick={() => void desk.plan.turn(-1)}>
        Week before
      </button>
      <button type="button" data-action="week-after" onClick={() => void desk.plan.turn(1)}>
        Week after
      </button>
      {!desk.plan.isThisWeek.value && (
        <button type="button" data-action="this-week" onClick={() => void desk.plan.turnToToday()}>
          This week
        </button>
      )}
      <button
        type="button"
        data-action="copy-week"
        disabled={plan.days.every(({ practices }) => practices.length === 0) || !isOwners(desk)}
        onClick={() => void desk.plan.copyOn()}
      >
        Copy to the week after
      </button>
    </div>
  );
}

/** Which practice is to be swum on which day, and whether the week has all it should. */
export function PlanArea({ desk }: { desk: Desk }): JSX.Element {
  const { plan } = desk;
  useEffect(() => void plan.reload(), [plan]);
  const shown = plan.shown.value;
  const course = desk.squad.pool.value?.course ?? DEFAULT_POOL.course;
  return (
    <div class="plan" data-plan={shown?.days[0]?.day} aria-busy={plan.busy.value}>
      <ProblemNote problem={plan.problem.value} />
      {!shown && !plan.problem.value && <p class="quiet">Loading…</p>}
      {shown && (
        <>
          <Turning desk={desk} plan={shown} />
          <p class="quiet" role="status">
            {plan.copied.value && copiedWords(plan.copied.value)}
          </p>
          <p class="left-out" data-not-planned>
            {planLeavesOut(shown)}
          </p>
          {desk.library.entries.value.every(({ savedAt }) => savedAt === null) && (
            <p>
              There is no practice to plan with yet: <a href="#practice">write one</a>.
            </p>
          )}
          <div class="plan-days">
            {shown.days.map((day) => (
              <DayCard
                key={day.day}
                desk={desk}
                day={day}
                days={shown.days}
                course={course}
                isToday={day.day === shown.today}
              />
            ))}
          </div>
          <Balance plan={shown} course={course} />
        </>
      )}
    </div>
  );
}
