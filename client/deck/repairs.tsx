import { useMemo } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import type { Offers } from './lane-time-words.ts';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';

interface LaneProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
}

/** Puts right what was taken last, in the lane that is open, else in whatever lane: always in the same place. */
export function Repairs({ deck }: { readonly deck: Deck }) {
  const opened = deck.panel.value;
  const lane = opened && opened.kind !== 'change' ? opened.lane : deck.times.repairing.value;
  return (
    <section
      class="repairs"
      aria-label={lane === null ? 'Put a time right' : `Put a time of lane ${lane} right`}
      data-under={opened?.kind ?? 'lanes'}
    >
      {lane !== null && <RepairButtons deck={deck} lane={lane} />}
    </section>
  );
}

const NOTHING: Offers = { undo: '', back: '', not: '', but: '', missed: '', swap: '' };

/** One press each, and undo takes every one of them back. Nothing moves: what is not offered is pale. */
function RepairButtons({ deck, lane }: LaneProps) {
  const offers = useMemo(() => steady(() => deck.times.lane(lane).offers), [deck, lane]).value ?? NOTHING;
  const { undo, back, not, but, missed, swap } = offers;
  const { times } = deck;
  return (
    <div class="repair-row">
      <PressButton
        class="repair"
        disabled={undo === ''}
        data={{ 'data-press': 'undo-time' }}
        onPress={(event) => times.undo(lane, deck.pressedAt(event))}
      >
        <span class="repair-word">undo</span> <small>{undo === '' ? `lane ${lane}` : `lane ${lane}: ${undo}`}</small>
      </PressButton>
      {back === '' ? (
        <PressButton
          class="repair"
          disabled={not === ''}
          data={{ 'data-press': 'not-them' }}
          onPress={(event) => times.giveToNext(lane, deck.pressedAt(event))}
        >
          <span class="repair-word">not {not === '' ? 'them' : not}</span> {but !== '' && <small>it was {but}</small>}
        </PressButton>
      ) : (
        <PressButton
          class="repair"
          disabled={false}
          data={{ 'data-press': 'bring-back' }}
          onPress={(event) => times.bringBack(lane, deck.pressedAt(event))}
        >
          <span class="repair-word">bring back</span> <small>{back}</small>
        </PressButton>
      )}
      {swap === '' ? (
        <PressButton
          class="repair"
          disabled={missed === ''}
          data={{ 'data-press': 'missed' }}
          onPress={(event) => times.miss(lane, deck.pressedAt(event))}
        >
          <span class="repair-word">missed</span> <small>{missed}</small>
        </PressButton>
      ) : (
        <PressButton
          class="repair"
          disabled={false}
          data={{ 'data-press': 'swap' }}
          onPress={(event) => times.swap(lane, deck.pressedAt(event))}
        >
          <span class="repair-word">swap</span> <small>{swap} counts</small>
        </PressButton>
      )}
    </div>
  );
}
