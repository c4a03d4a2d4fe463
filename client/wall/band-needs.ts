import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { timeLastsMs } from '../../shared-types/board/own-times.ts';
import type { LaneSwimmer } from '../../shared-types/board/timed-rep.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { figuresWidth, wordsWidth } from './type-metrics.ts';
import { countdownText, repText, restText } from './words.ts';

/** How much the widest writing of the board takes, in ems, so that nothing moves when a figure changes. */
export interface Needs {
  readonly swimmers: number;
  /** Somebody has no target; the name may stand in its place. */
  readonly untimed: boolean;
  readonly lane: number;
  readonly countdown: number;
  readonly time: number;
  readonly rest: number;
  readonly rep: number;
  readonly name: number;
  readonly passing: number;
  readonly target: number;
}

const MINUTES_EMS = figuresWidth('0:00');
const LONG_EMS = figuresWidth('00:00');

const widest = (texts: readonly string[], widthOf: (text: string) => number): number =>
  texts.reduce((most, text) => Math.max(most, widthOf(text)), 0);

/** A text of figures with every digit the widest, and at least two digits where one may become two. */
const settled = (text: string): string => text.replace(/^\d(?=[./])/, '00');

/** All times a swimmer may be shown on a rep, the widest of which decides the column. */
const holdTexts = ({ target }: LaneSwimmer): string[] =>
  (target?.splits ?? []).filter(({ paced }) => paced).map(({ ms }) => formatSwimTime(ms, 1));
const repShape = ({ rep }: LaneBoard): string =>
  rep && repText(rep) !== '' ? `${String(rep.reps).replace(/\d/g, '0')}/${rep.reps}` : '';

const TEN_MINUTES_MS = 600_000;

/** What the lane's time may come to, counted from the lane's send-off. */
const longestTimeMs = ({ rep, swimmers, times }: LaneBoard): number =>
  Math.max(
    ...swimmers.map((one) => (rep ? one.afterMs + timeLastsMs(rep, one) : 0)),
    ...times.map(({ leftAt, endsAt, afterMs }) => endsAt - leftAt + afterMs),
  );

export function needsOf(lanes: readonly LaneBoard[]): Needs {
  const swimmers = lanes.flatMap((lane) => lane.swimmers);
  const turns = lanes.flatMap(({ turn }) => turn ?? []);
  const longWait = lanes.some(({ countdownMs }) => countdownMs !== null && countdownText(countdownMs).length > 4);
  return {
    swimmers: Math.max(1, ...lanes.map((lane) => lane.swimmers.length)),
    untimed: swimmers.some((one) => one.label !== '' && holdTexts(one).length === 0),
    lane: widest(
      lanes.map(({ lane }) => String(lane)),
      figuresWidth,
    ),
    countdown: longWait ? LONG_EMS : MINUTES_EMS,
    time: lanes.some((lane) => longestTimeMs(lane) >= TEN_MINUTES_MS) ? LONG_EMS : MINUTES_EMS,
    rest: widest(lanes.map(restText), figuresWidth),
    rep: widest(lanes.map(repShape), figuresWidth),
    name: widest(
      [...swimmers, ...turns].map(({ label }) => label),
      wordsWidth,
    ),
    passing: widest(
      swimmers.map((one) => holdTexts(one).slice(0, -1).join(' ')),
      figuresWidth,
    ),
    target: widest(swimmers.flatMap(holdTexts).map(settled), figuresWidth),
  };
}
