import { useMemo, useRef } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import type { LaneTime } from './lane-time-words.ts';
import { steady } from './steady.ts';
import type { LaneRow } from './words.ts';

interface PadProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly row: LaneRow;
}

/** A click so soon after a pointer is that pointer's own. */
const SAME_PRESS_MS = 700;

/** Takes the time of who comes next, as the finger touches: the instant matters, not the finger's way up. */
export function Pad({ deck, lane, row }: PadProps) {
  const { next, last } = useMemo(() => steady(() => deck.times.lane(lane)), [deck, lane]).value;
  const touchedAt = useRef(Number.NEGATIVE_INFINITY);
  const down = (event: PointerEvent): void => {
    touchedAt.current = event.timeStamp;
    if (event.button !== 0 || deck.contacts.areTooMany) return;
    const mark = deck.times.take(lane, deck.pressedAt(event));
    if (mark) deck.contacts.did(event, () => deck.times.withdraw(mark));
  };
  const up = (event: PointerEvent): void => {
    touchedAt.current = event.timeStamp;
  };
  const click = (event: Event): void => {
    if (event.timeStamp - touchedAt.current > SAME_PRESS_MS) deck.times.take(lane, deck.pressedAt(event));
  };
  return (
    <>
      <button
        type="button"
        class={last ? 'pad timed' : 'pad'}
        disabled={next === null}
        data-press="time"
        onPointerDown={down}
        onPointerUp={up}
        onClick={click}
      >
        <span class="visually-hidden">Lane {lane} time: </span>
        <span class="pad-now">{[row.phaseWords, row.rep].filter((words) => words !== '').join(' · ')}</span>
        {last && <Taken last={last} />}
        <Next next={next} turn={row.turn} />
      </button>
      <p class="visually-hidden" role="status" data-last-time>
        {last && `${last.name} ${last.time} ${last.difference} ${last.note}`.trim()}
      </p>
    </>
  );
}

/** The time taken last; beside it the page says it to who cannot see it. */
const Taken = ({ last }: { readonly last: NonNullable<LaneTime['last']> }) => (
  <span class="pad-taken" aria-hidden="true">
    <span class="pad-name">{last.name}</span> <strong>{last.time}</strong> <span>{last.difference}</span>
    {last.note !== '' && <small> {last.note}</small>}
  </span>
);

/** Whose time the next press takes, with what is to be held; while nobody swims, who leaves next. */
function Next({ next, turn }: Pick<LaneTime, 'next'> & Pick<LaneRow, 'turn'>) {
  if (!next) return <span class="pad-next">{turn === '' ? 'nobody' : <>leaves {turn}</>}</span>;
  return (
    <span class="pad-next">
      <span class="pad-name">{next.name}</span> <span class="pad-target">{next.target}</span>
      {next.place !== '' && <small> {next.place}</small>}
    </span>
  );
}
