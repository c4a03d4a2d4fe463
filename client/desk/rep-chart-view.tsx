import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { Chart } from './chart.tsx';
import type { TimeChart } from './chart-model.ts';
import { type LineKind, MarkKey } from './mark-key.tsx';
import { nameOf } from './names.ts';
import { type Drawn, type DrawnSet, repChart, swimmersWithTimes } from './rep-chart.ts';
import { drawnPlaceWords, repGist, repKey, repReading, trendWords } from './rep-chart-words.ts';

/** Height of a chart of one swimmer, and what each name beside one of everybody needs, px. */
const HEIGHT = 230;
const NAME_HEIGHT = 15;
const AROUND_NAMES = 90;

interface ChooserProps {
  readonly swimmers: readonly ShownSwimmer[];
  readonly labels: Labels;
  readonly who: Drawn;
  readonly choose: (who: Drawn) => void;
}

function Chooser({ swimmers, labels, who, choose }: ChooserProps): JSX.Element {
  return (
    <label class="chooser">
      <span>Chart of</span>
      <select
        value={who}
        onChange={({ currentTarget }) =>
          choose(swimmers.find(({ swimmer }) => swimmer === currentTarget.value)?.swimmer ?? 'everybody')
        }
      >
        {swimmers.map(({ swimmer }) => (
          <option key={swimmer} value={swimmer}>
            {nameOf(labels, swimmer)}
          </option>
        ))}
        {swimmers.length > 1 && <option value="everybody">Everybody</option>}
      </select>
    </label>
  );
}

/** What the lines of the chart are. */
function lineKey(chart: TimeChart): { readonly line: LineKind; readonly words: string }[] {
  const trend = trendWords(chart);
  return [
    ...(chart.asked.length > 0 ? [{ line: 'asked' as const, words: 'asked' }] : []),
    ...(chart.asked.some(({ toleranceMs }) => toleranceMs !== null)
      ? [{ line: 'tolerance' as const, words: 'within the tolerance' }]
      : []),
    ...(trend === null ? [] : [{ line: 'trend' as const, words: `trend: ${trend}` }]),
  ];
}

/** Everybody is only drawn together with what was asked where all were asked the same. */
function notes(drawn: DrawnSet, chart: TimeChart): string {
  const someAsked =
    drawn.who === 'everybody' && drawn.set.swimmers.some(({ reps }) => reps.some(({ target }) => target.ms !== null));
  const apart =
    someAsked && chart.asked.length === 0 ? 'Not all were asked the same: choose one swimmer to see it.' : '';
  return [drawnPlaceWords(drawn), apart].filter((words) => words !== '').join(' ');
}

/** The times of a set over its reps, of one swimmer or of everybody. */
export function RepChartView({ set, labels }: { set: ShownSet; labels: Labels }): JSX.Element {
  const swimmers = swimmersWithTimes(set);
  const [chosen, choose] = useState<SwimmerId | 'everybody' | null>(null);
  const isThere = chosen === 'everybody' || swimmers.some(({ swimmer }) => swimmer === chosen);
  const who = (isThere ? chosen : swimmers[0]?.swimmer) ?? 'everybody';
  const drawn = useMemo((): DrawnSet => ({ set, who, labels }), [set, who, labels]);
  const chart = useMemo(() => repChart(drawn), [drawn]);
  const height = who === 'everybody' ? Math.max(HEIGHT, swimmers.length * NAME_HEIGHT + AROUND_NAMES) : HEIGHT;
  const words = notes(drawn, chart);
  return (
    <div class="rep-chart">
      <Chart
        chart={chart}
        label={repGist(drawn, chart)}
        height={height}
        read={(place) => repReading(drawn, chart, place)}
      >
        <Chooser swimmers={swimmers} labels={labels} who={who} choose={choose} />
      </Chart>
      <MarkKey marks={repKey(drawn)} lines={lineKey(chart)} />
      {words !== '' && <p class="quiet">{words}</p>}
    </div>
  );
}
