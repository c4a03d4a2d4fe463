import { useMemo, useRef } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';

interface TimeProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
}

/** A click so soon after a pointer is that pointer's own. */
const SAME_PRESS_MS = 700;

/** Takes the time of who comes next, as the finger touches: the instant matters, not the finger's way up. */
export function TimeButton({ deck, lane }: TimeProps) {
  const next = useMemo(() => steady(() => deck.times.lane(lane).next), [deck, lane]).value;
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
    <button
      type="button"
      class="take-time"
      disabled={next === ''}
      data-press="time"
      onPointerDown={down}
      onPointerUp={up}
      onClick={click}
    >
      <span class="visually-hidden">Lane {lane} </span>
      Time <small>{next === '' ? 'nobody' : next}</small>
    </button>
  );
}

/** The time taken last, and a button that takes it back. */
export function LastTime({ deck, lane }: TimeProps) {
  const last = useMemo(() => steady(() => deck.times.lane(lane).last), [deck, lane]).value;
  return (
    <div class="last-time" data-last-time>
      {last && (
        <>
          <p role="status">
            {last.words} <span class="difference">{last.difference}</span>
          </p>
          <PressButton
            class="take-back"
            name={`undo ${last.words} in lane ${lane}`}
            disabled={false}
            data={{ 'data-take-back': lane }}
            onPress={(event) => deck.times.takeBack(lane, deck.pressedAt(event))}
          >
            undo
          </PressButton>
        </>
      )}
    </div>
  );
}
