import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { TimeChart } from './chart-model.ts';
import type { Plot } from './plot.ts';

interface ChartProps {
  readonly chart: TimeChart;
  /** The gist, for who does not see it. */
  readonly label: string;
  /** Px. */
  readonly height: number;
  /** A place on the x axis in words. */
  readonly read: (place: number) => string;
  /** What chooses what is drawn. */
  readonly children: ComponentChildren;
}

/** Told when the page goes from day to night or back. @returns what ends that */
function onNightfall(then: () => void): () => void {
  const night = matchMedia('(prefers-color-scheme: dark)');
  night.addEventListener('change', then);
  return () => night.removeEventListener('change', then);
}

/** Told the width of an element now and whenever it changes, px. @returns what ends that */
function onWidth(element: HTMLElement, then: (width: number) => void): () => void {
  const observer = new ResizeObserver(() => {
    const width = Math.floor(element.clientWidth);
    if (width > 0) then(width);
  });
  observer.observe(element);
  return () => observer.disconnect();
}

type Loading = 'loading' | 'drawn' | 'failed';

/** A chart in an element of its own, which nothing else draws into. */
function usePlot(chart: TimeChart, height: number, onRead: (place: number | null) => void) {
  const host = useRef<HTMLDivElement>(null);
  const plot = useRef<Plot | null>(null);
  const latest = useRef(chart);
  const [state, setState] = useState<Loading>('loading');
  latest.current = chart;

  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const ends: (() => void)[] = [];
    let isGone = false;
    import('./plot.ts').then(
      ({ drawPlot }) => {
        if (isGone) return;
        const drawn = drawPlot(element, latest.current, { width: Math.max(200, element.clientWidth), height }, onRead);
        plot.current = drawn;
        ends.push(onWidth(element, drawn.resize), onNightfall(drawn.redraw), drawn.destroy);
        setState('drawn');
      },
      () => setState('failed'),
    );
    return () => {
      isGone = true;
      plot.current = null;
      for (const end of ends) end();
    };
  }, [height, onRead]);

  useLayoutEffect(() => plot.current?.update(chart), [chart]);
  return { host, state };
}

/** Times drawn; the library that draws comes only when there is something to draw. */
export function Chart({ chart, label, height, read, children }: ChartProps): JSX.Element {
  const [place, setPlace] = useState<number | null>(null);
  const { host, state } = usePlot(chart, height, setPlace);
  if (state === 'failed') {
    return (
      <p class="quiet" data-chart="failed">
        The chart could not be loaded. The table has every time; reload the page to try again.
      </p>
    );
  }
  return (
    <div class="chart" data-chart={state}>
      <div class="chart-top">
        {children}
        <p class="reading" aria-hidden="true">
          {place === null ? '' : read(place)}
        </p>
      </div>
      <div class="plot" ref={host} role="img" aria-label={label} style={{ height: `${height}px` }} />
    </div>
  );
}
