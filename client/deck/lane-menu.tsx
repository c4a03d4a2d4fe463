import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import { PressButton } from './press-button.tsx';
import { ViewButton } from './view-button.tsx';

/** One press moves a lane so far, ms. */
const STEP_MS = 5000;

interface MenuProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  /** A lane that waits, or is done, has nothing to move. */
  readonly moves: boolean;
}

/** What is rarely pressed for one lane. Whether it has been shifted only the server knows; it says so in words. */
export function LaneMenu({ deck, lane, moves }: MenuProps) {
  const disabled = deck.link.state.value !== 'live' || !moves;
  return (
    <div class="lane-menu">
      <Shift deck={deck} lane={lane} byMs={-STEP_MS} disabled={disabled} />
      <Shift deck={deck} lane={lane} byMs={STEP_MS} disabled={disabled} />
      <PressButton
        class="shift"
        name={`Realign lane ${lane}`}
        disabled={disabled}
        data={{ 'data-press': 'realign' }}
        onPress={(event) => deck.presses.oneLane({ kind: 'realign', lane, pressedAt: deck.pressedAt(event) })}
      >
        Realign
      </PressButton>
      <ViewButton
        class="shift who"
        name={`Who swims in lane ${lane}`}
        data={{ 'data-press': 'who' }}
        onPress={() => deck.show({ kind: 'swimmers', lane })}
      >
        Who <small>swims</small>
      </ViewButton>
    </div>
  );
}

interface ShiftProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly byMs: number;
  readonly disabled: boolean;
}

function Shift({ deck, lane, byMs, disabled }: ShiftProps) {
  const seconds = Math.abs(byMs) / 1000;
  return (
    <PressButton
      class="shift"
      disabled={disabled}
      data={{ 'data-press': 'shift', 'data-by': byMs }}
      onPress={(event) => deck.presses.oneLane({ kind: 'shift', lane, byMs, pressedAt: deck.pressedAt(event) })}
    >
      <span class="visually-hidden">Lane {lane} </span>
      {byMs < 0 ? '−' : '+'}
      {seconds} <small>s</small>
    </PressButton>
  );
}
