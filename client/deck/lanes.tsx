import { useMemo, useState } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck } from './deck-model.ts';
import { LaneMenu } from './lane-menu.tsx';
import { LastTime, TimeButton } from './lane-time.tsx';
import { steady } from './steady.ts';

/** A row for every lane of the practice, lane 1 first. */
export function Lanes({ deck }: { readonly deck: Deck }) {
  const numbers = useMemo(() => steady(() => deck.board.value.lanes.map(({ lane }) => lane)), [deck]);
  return (
    <section class="lanes" aria-label="Lanes" hidden={deck.panel.value !== null}>
      {numbers.value.map((lane) => (
        <Lane key={lane} deck={deck} lane={lane} />
      ))}
    </section>
  );
}

function Lane({ deck, lane }: { readonly deck: Deck; readonly lane: LaneNumber }) {
  const shown = useMemo(() => steady(() => deck.lane(lane)), [deck, lane]);
  const [isOpen, setOpen] = useState(false);
  const row = shown.value;
  if (!row) return null;
  return (
    <article class={isOpen ? 'lane open' : 'lane'} data-lane={lane} data-phase={row.phase} aria-label={`Lane ${lane}`}>
      <button
        type="button"
        class="lane-number"
        aria-expanded={isOpen}
        aria-label={`Lane ${lane}: move it, or see who swims`}
        data-menu
        onClick={() => setOpen(!isOpen)}
      >
        {lane}
        <span aria-hidden="true">{isOpen ? '×' : '…'}</span>
      </button>
      <div class="lane-words">
        <p class="lane-phase">{row.phaseWords}</p>
        <p>{row.rep}</p>
        <p class="lane-turn">{row.turn}</p>
      </div>
      <div class="lane-leave">
        <p class="lane-reading">{row.reading}</p>
        <p>{row.countdown}</p>
      </div>
      {isOpen ? (
        <LaneMenu deck={deck} lane={lane} moves={row.moves} />
      ) : (
        <>
          <LastTime deck={deck} lane={lane} />
          <TimeButton deck={deck} lane={lane} />
        </>
      )}
    </article>
  );
}
