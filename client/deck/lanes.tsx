import { useMemo } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';

/** One press moves a lane so far, ms. */
const STEP_MS = 5000;

/** A row for every lane of the practice, lane 1 first. */
export function Lanes({ deck }: { readonly deck: Deck }) {
  const numbers = useMemo(() => steady(() => deck.board.value.lanes.map(({ lane }) => lane)), [deck]);
  return (
    <section class="lanes" aria-label="Lanes">
      {numbers.value.map((lane) => (
        <Lane key={lane} deck={deck} lane={lane} />
      ))}
    </section>
  );
}

function Lane({ deck, lane }: { readonly deck: Deck; readonly lane: LaneNumber }) {
  const shown = useMemo(() => steady(() => deck.lane(lane)), [deck, lane]);
  const row = shown.value;
  if (!row) return null;
  return (
    <article class="lane" data-lane={lane} data-phase={row.phase} aria-label={`Lane ${lane}`}>
      <p class="lane-number" aria-hidden="true">
        {lane}
      </p>
      <div class="lane-words">
        <p class="lane-phase">{row.phaseWords}</p>
        <p>{row.rep}</p>
      </div>
      <p class="lane-turn">{row.turn}</p>
      <div class="lane-leave">
        <p class="lane-reading">{row.reading}</p>
        <p>{row.countdown}</p>
      </div>
      <Shift deck={deck} lane={lane} byMs={-STEP_MS} moves={row.moves} />
      <Shift deck={deck} lane={lane} byMs={STEP_MS} moves={row.moves} />
    </article>
  );
}

interface ShiftProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly byMs: number;
  /** A lane that waits, or is done, has nothing to move. */
  readonly moves: boolean;
}

function Shift({ deck, lane, byMs, moves }: ShiftProps) {
  const seconds = Math.abs(byMs) / 1000;
  const isLive = deck.link.state.value === 'live';
  return (
    <PressButton
      class={byMs < 0 ? 'shift earlier' : 'shift later'}
      disabled={!isLive || !moves}
      data={{ 'data-press': 'shift', 'data-by': byMs }}
      onPress={(event) => deck.presses.oneLane({ kind: 'shift', lane, byMs, pressedAt: deck.pressedAt(event) })}
    >
      <span class="visually-hidden">Lane {lane} </span>
      {byMs < 0 ? '−' : '+'}
      {seconds} <small>s</small>
    </PressButton>
  );
}
