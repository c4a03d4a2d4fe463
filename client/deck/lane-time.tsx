import { useMemo } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import type { LaneTime } from './lane-time-words.ts';
import { steady } from './steady.ts';
import { TimeButton } from './time-button.tsx';
import type { LaneRow } from './words.ts';

interface PadProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly row: LaneRow;
}

/** Takes the times of a lane, and says whose is next. */
export function Pad({ deck, lane, row }: PadProps) {
  const { next, last } = useMemo(() => steady(() => deck.times.lane(lane)), [deck, lane]).value;
  return (
    <>
      <TimeButton deck={deck} lane={lane} class={last ? 'pad timed' : 'pad'} disabled={next === null}>
        <span class="pad-now">{[row.phaseWords, row.rep].filter((words) => words !== '').join(' · ')}</span>
        {last && <Taken last={last} />}
        <Next next={next} turn={row.turn} />
      </TimeButton>
      <p class="visually-hidden" role="status" data-last-time>
        {last && `${last.name} ${last.time} ${last.difference} ${last.note}`.trim()}
      </p>
    </>
  );
}

/** The time taken last; beside it the page says it to who cannot see it. */
const Taken = ({ last }: { readonly last: NonNullable<LaneTime['last']> }) => (
  <span class="pad-taken" aria-hidden="true">
    <bdi class="pad-name">{last.name}</bdi> <strong>{last.time}</strong> <span>{last.difference}</span>
    {last.note !== '' && <small> {last.note}</small>}
  </span>
);

/** Whose time the next press takes, with what is to be held; while nobody swims, who leaves next. */
function Next({ next, turn }: Pick<LaneTime, 'next'> & Pick<LaneRow, 'turn'>) {
  if (!next) return <span class="pad-next">{turn === '' ? 'nobody' : <>leaves {turn}</>}</span>;
  return (
    <span class="pad-next">
      <bdi class="pad-name">{next.name}</bdi> <span class="pad-target">{next.target}</span>
      {next.place !== '' && <small> {next.place}</small>}
    </span>
  );
}
