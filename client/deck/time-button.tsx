import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';

interface TimeButtonProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly class: string;
  readonly disabled: boolean;
  readonly children: ComponentChildren;
}

/** A click so soon after a pointer is that pointer's own. */
const SAME_PRESS_MS = 700;

/** Takes the time of who comes next, as the finger touches: the instant matters, not the finger's way up. */
export function TimeButton({ deck, lane, class: classes, disabled, children }: TimeButtonProps) {
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
      class={classes}
      disabled={disabled}
      data-press="time"
      onPointerDown={down}
      onPointerUp={up}
      onClick={click}
    >
      <span class="visually-hidden">Lane {lane} time: </span>
      {children}
    </button>
  );
}
