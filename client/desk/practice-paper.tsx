import type { JSX } from 'preact';
import type { Pool } from '../../shared-types/pool.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { formatClock } from '../../shared-types/time.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import { type CardSection, cardOf } from './lane-card.ts';
import { distanceWords, secondsText } from './sheet-words.ts';
import { headingOf } from './shorthand-tokens.ts';

interface PracticeProps {
  readonly text: string;
  readonly sheet: Sheet;
  readonly pool: Pool | null;
}

/** Lines that fit a page in one column, and in two smaller ones. */
const ONE_COLUMN = 52;
const TWO_COLUMNS = 130;

const sizeOf = (lines: number): string =>
  lines <= ONE_COLUMN ? 'large' : lines <= TWO_COLUMNS ? 'two-columns' : 'two-columns small';

function Facts({ sheet, pool }: Omit<PracticeProps, 'text'>): JSX.Element {
  const booked = pool?.bookedMs === undefined ? '' : ` of ${secondsText(pool.bookedMs)} booked`;
  const styles = Object.entries(sheet.byStyle).map(
    ([style, share]) => `${style} ${Math.round(share?.minutes ?? 0)} min`,
  );
  return (
    <p>
      {distanceWords(sheet.distance, sheet.course)}, {secondsText(sheet.durationMs)}
      {booked}
      {styles.length > 0 && `; ${styles.join(', ')}`}
    </p>
  );
}

/** The practice as the coach has written it, on one page. */
export function PracticePaper({ text, sheet, pool }: PracticeProps): JSX.Element {
  const lines = text.trimEnd().split('\n');
  const cautions = sheet.messages.filter(({ code }) => code === 'caution');
  const isTitled = headingOf(lines[0] ?? '', null) === 'title';
  const shown = isTitled ? lines.slice(1) : lines;
  return (
    <article class="paper-practice">
      {isTitled && (
        <h1>
          <bdi>{(lines[0] ?? '').replace(/^\s*#\s*/, '')}</bdi>
        </h1>
      )}
      <Facts sheet={sheet} pool={pool} />
      <div class={`paper-lines ${sizeOf(lines.length)}`}>
        {shown.map((line, place) => (
          <p key={`${place} ${line}`} class={headingOf(line, shown[place - 1] ?? '') ?? undefined}>
            {line === '' ? '\u00a0' : line}
          </p>
        ))}
      </div>
      {cautions.length > 0 && (
        <section class="paper-cautions">
          {cautions.map(({ text: caution }) => (
            <p key={caution}>
              <strong>Caution:</strong> {caution}.
            </p>
          ))}
        </section>
      )}
    </article>
  );
}

interface CardsProps {
  readonly sheet: Sheet;
  readonly labels: Labels;
}

const hasPauseOnly = ({ rows }: CardSection): boolean => rows.every(({ every }) => every === '');

/** One card for each lane: when it leaves, what it swims, what each swimmer holds. */
export function LaneCards({ sheet, labels }: CardsProps): JSX.Element {
  return (
    <article>
      <p class="paper-note">
        Clock readings are for a pace clock that stands at :00 when the lane is set off, and again at each go.
      </p>
      {sheet.lanes.map((lane) => (
        <section key={lane.lane} class="paper-card" data-card={lane.lane}>
          <h2>
            Lane {lane.lane}{' '}
            <small>
              group {lane.group}, {distanceWords(lane.distance, sheet.course)}, {formatClock(lane.apartMs)} apart
            </small>
          </h2>
          <table>
            <thead>
              <tr>
                <th class="what">Swim</th>
                <th>Every</th>
                <th>Leave at</th>
                {lane.swimmers.map((swimmer, place) => (
                  <th key={swimmer}>
                    <bdi>{labels[swimmer] ?? `Swimmer ${place + 1}`}</bdi>
                  </th>
                ))}
              </tr>
            </thead>
            {cardOf(sheet, lane).map((section) => (
              <tbody key={section.rows[0]?.id}>
                {section.name !== '' && !hasPauseOnly(section) && (
                  <tr>
                    <th class="what" colSpan={3 + lane.swimmers.length}>
                      <bdi>{section.name}</bdi>
                    </th>
                  </tr>
                )}
                {section.rows.map(({ id, what, every, readings, targets }) =>
                  every === '' ? (
                    <tr key={id}>
                      <td class="what" colSpan={3 + lane.swimmers.length}>
                        {what}
                      </td>
                    </tr>
                  ) : (
                    <tr key={id}>
                      <td class="what">{what}</td>
                      <td>{every}</td>
                      <td>{readings}</td>
                      {targets.map((target, place) => (
                        <td key={lane.swimmers[place]}>{target}</td>
                      ))}
                    </tr>
                  ),
                )}
              </tbody>
            ))}
          </table>
        </section>
      ))}
    </article>
  );
}
