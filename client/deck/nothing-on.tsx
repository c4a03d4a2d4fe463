import { useComputed } from '@preact/signals';
import type { Deck } from './deck-model.ts';

/** What stands in the deck's place while there is no practice. */
export function NothingOn({ deck }: { readonly deck: Deck }) {
  const isLive = useComputed(() => deck.link.state.value === 'live').value;
  return (
    <section class="nothing-on">
      {isLive ? (
        <>
          <h1>Nothing is on the wall.</h1>
          <p>
            Open the desk on a laptop, choose or write a practice and press <em>Put on the wall</em>. It then shows here
            by itself, ready to start.
          </p>
        </>
      ) : (
        <>
          <h1>The server is not there yet.</h1>
          <p>Look whether Farwall runs on the laptop, and whether this tablet is in the same network.</p>
        </>
      )}
    </section>
  );
}
