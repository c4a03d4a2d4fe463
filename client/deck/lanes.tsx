import { useComputed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import { Caution } from './caution.tsx';
import type { Deck } from './deck-model.ts';
import { HeatBar, HeatPad } from './heat-pad.tsx';
import { Pad } from './lane-time.tsx';
import { steady } from './steady.ts';

/** With more lanes than this their pads stand in more columns. */
const FEW = 6;

/** A pad for every lane of the practice, lane 1 first. */
export function Lanes({ deck }: { readonly deck: Deck }) {
  const numbers = useMemo(() => steady(() => deck.board.value.lanes.map(({ lane }) => lane)), [deck]).value;
  const hasHeats = deck.heats.value.length > 0;
  const isCautioned = useComputed(() => deck.caution.value !== '').value;
  const isMany = numbers.length > FEW;
  const isHeaded = hasHeats || isCautioned;
  return (
    <section
      class={['lanes', isHeaded && 'headed', isCautioned && 'cautioned', isMany && 'many'].filter(Boolean).join(' ')}
      aria-label="Lanes"
      hidden={deck.panel.value !== null}
    >
      {isHeaded && (
        <div class="lanes-head">
          {hasHeats && <HeatBar deck={deck} />}
          <Caution deck={deck} />
        </div>
      )}
      {numbers.map((lane) => (
        <Lane key={lane} deck={deck} lane={lane} />
      ))}
    </section>
  );
}

function Lane({ deck, lane }: { readonly deck: Deck; readonly lane: LaneNumber }) {
  const row = useMemo(() => steady(() => deck.lane(lane)), [deck, lane]).value;
  const heat = useMemo(() => steady(() => deck.heatPad(lane)), [deck, lane]).value;
  if (!row) return null;
  return (
    <article
      class="lane"
      data-lane={lane}
      data-phase={heat?.swims ? 'swimming' : row.phase}
      aria-label={`Lane ${lane}`}
    >
      <button
        type="button"
        class="lane-number"
        data-menu
        data-press="lane"
        onClick={() => deck.show({ kind: 'lane', lane })}
      >
        <span class="visually-hidden">Lane </span>
        <span class="lane-digit">{lane}</span>
        <span class="lane-reading">{row.reading}</span>
        <span class="lane-countdown">{row.countdown}</span>
        <span class="visually-hidden">; times, who swims, move it</span>
      </button>
      {heat ? <HeatPad deck={deck} lane={lane} words={heat} /> : <Pad deck={deck} lane={lane} row={row} />}
    </article>
  );
}
