import type { JSX } from 'preact';
import { unitOf } from '../../shared-types/pool.ts';
import type { Style } from '../../shared-types/practice.ts';
import { type Sheet, styleSchema } from '../../shared-types/sheet.ts';
import { distanceWords, secondsText } from './sheet-words.ts';

interface Share {
  readonly style: Style;
  readonly distance: number;
  readonly sets: number;
  readonly minutes: number;
}

const sharesOf = ({ byStyle }: Sheet): Share[] =>
  styleSchema.options
    .flatMap((style) => {
      const share = byStyle[style];
      return share ? [{ style, ...share }] : [];
    })
    .sort((a, b) => b.minutes - a.minutes);

const classOf = (style: Style): string => `style-${style.replace(' ', '-')}`;

function StyleShares({ sheet }: { sheet: Sheet }): JSX.Element {
  const shares = sharesOf(sheet);
  return (
    <div class="shares">
      <div class="share-bar" aria-hidden="true">
        {shares.map(({ style, minutes }) => (
          <span key={style} class={classOf(style)} style={{ flexGrow: Math.max(minutes, 0.2) }} />
        ))}
      </div>
      <ul>
        {shares.map(({ style, distance, minutes }) => (
          <li key={style} data-style={style}>
            <span class={`swatch ${classOf(style)}`} aria-hidden="true" />
            <strong>{style}</strong> {distanceWords(distance, sheet.course)}, {Math.round(minutes)} min
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Distance, time and the shares of the styles, of the lane that swims most. */
export function Totals({ sheet }: { sheet: Sheet }): JSX.Element {
  const waits = sheet.joins.filter(({ gate }) => gate).length;
  return (
    <div class="totals" data-totals>
      <dl>
        <div>
          <dt>Distance</dt>
          <dd data-total-distance={sheet.distance}>
            {sheet.distance.toLocaleString('en')} <small>{unitOf(sheet.course)}</small>
          </dd>
        </div>
        <div>
          <dt>Time</dt>
          <dd data-total-ms={sheet.durationMs}>{secondsText(sheet.durationMs)}</dd>
        </div>
        {waits > 0 && (
          <div>
            <dt>Waits for go</dt>
            <dd>{waits}</dd>
          </div>
        )}
      </dl>
      <StyleShares sheet={sheet} />
    </div>
  );
}
