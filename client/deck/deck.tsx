import { useComputed } from '@preact/signals';
import { Controls } from './controls.tsx';
import type { Deck } from './deck-model.ts';
import { Lanes } from './lanes.tsx';
import { NothingOn } from './nothing-on.tsx';
import { Top } from './top.tsx';

/** The whole page. `data-state` and `data-link` say for tests and styles what it is showing. */
export function DeckPage({ deck }: { readonly deck: Deck }) {
  const state = useComputed(() => deck.board.value.phase);
  const isIdle = useComputed(() => deck.board.value.phase === 'idle').value;
  return (
    <main class="deck" data-deck data-state={state} data-link={deck.link.state}>
      <Top deck={deck} />
      {isIdle ? (
        <NothingOn deck={deck} />
      ) : (
        <>
          <Lanes deck={deck} />
          <Controls deck={deck} />
        </>
      )}
    </main>
  );
}
