import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { LinesAnswer } from '../../shared-types/wire/results.ts';
import type { Deck } from './deck-model.ts';
import { Panel } from './panel.tsx';
import { SetStepper } from './set-stepper.tsx';
import { steady } from './steady.ts';

interface ResultsProps {
  readonly deck: Deck;
  /** The lane to be seen first. */
  readonly lane: LaneNumber;
  readonly onClose: () => void;
}

type Lines = LinesAnswer['sets'][number];

/** What a set's times say so far, a line a swimmer, lane by lane, as the server words it. */
export function ResultsPanel({ deck, lane, onClose }: ResultsProps) {
  const [wanted, setWanted] = useState<number | null>(null);
  const answer = useMemo(() => steady(() => linesNow(deck)), [deck]).value;
  const isLive = deck.link.state.value === 'live';
  useEffect(() => deck.lines.follow(), [deck]);
  const sets = answer?.sets ?? [];
  const chosen = sets.findIndex(({ set }) => set === wanted);
  const place = chosen < 0 ? sets.length - 1 : chosen;
  const shown = sets[place];
  const head = shown ? (
    <SetStepper sets={sets} place={place} onStep={({ set }) => setWanted(set)}>
      <div class="set-words" role="status" data-lines-set={shown.set}>
        <p class="set-where">Results so far</p>
        <p class="set-what grid-set">{shown.words}</p>
      </div>
    </SetStepper>
  ) : (
    <h2 class="panel-title">Results so far</h2>
  );
  return (
    <Panel name="Results so far" head={head} onClose={onClose}>
      {!isLive && <p>The server works these out, and is not reached: they are as it had them last.</p>}
      {shown && answer ? (
        <LaneLines lines={shown} labels={answer.labels} first={lane} />
      ) : (
        isLive && <p>{answer ? 'Nobody has left yet.' : 'Asking the server…'}</p>
      )}
    </Panel>
  );
}

/** Of the practice on the wall; those of the one before say nothing of it. */
function linesNow({ lines, link }: Deck): LinesAnswer | null {
  const answer = lines.shown.value;
  return answer?.run === link.practice.value?.run.id ? answer : null;
}

interface LinesProps {
  readonly lines: Lines;
  readonly labels: LinesAnswer['labels'];
  readonly first: LaneNumber;
}

function LaneLines({ lines: { set, swimmers }, labels, first }: LinesProps) {
  const opened = useRef<HTMLElement>(null);
  useEffect(() => opened.current?.scrollIntoView({ block: 'start' }), []);
  const lanes = [...new Set(swimmers.map(({ lane }) => lane))].sort((a, b) => a - b);
  return (
    <div class="lane-lines" data-set={set}>
      {lanes.map((lane) => (
        <section key={lane} data-lines-lane={lane} ref={lane === first ? opened : null}>
          <h3>Lane {lane}</h3>
          <dl>
            {swimmers
              .filter((one) => one.lane === lane)
              .map(({ swimmer, line }) => (
                <div key={swimmer} data-swimmer={swimmer}>
                  <dt>
                    <bdi>{labels[swimmer] ?? 'swimmer'}</bdi>
                  </dt>
                  <dd>{line}</dd>
                </div>
              ))}
          </dl>
        </section>
      ))}
    </div>
  );
}
