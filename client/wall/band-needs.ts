import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { type LaneSwimmer, wholeMsOf } from '../../shared-types/board/timed-rep.ts';
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

/** Who swims longer than this may come to see ten minutes, ms. */
const LONG_SWIM_MS = 9.5 * 60_000;
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
    time: swimmers.some(({ target }) => (wholeMsOf(target) ?? 0) >= LONG_SWIM_MS) ? LONG_EMS : MINUTES_EMS,
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
