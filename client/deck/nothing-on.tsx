import { useComputed } from '@preact/signals';
import type { Deck } from './deck-model.ts';

/** What stands in the deck's place while there is no practice. */
export function NothingOn({ deck }: { readonly deck: Deck }) {
  const isLive = useComputed(() => deck.link.state.value === 'live').value;
  const isTold = deck.link.told.value;
  if (!isLive)
    return (
      <section class="nothing-on">
        <NoServer />
      </section>
    );
  return <section class="nothing-on">{isTold ? <Empty /> : <OnItsWay />}</section>;
}

function Empty() {
  return (
    <>
      <h1>Nothing is on the wall.</h1>
      <p>
        Open the desk on a laptop, choose or write a practice and press <em>Put on the wall</em>. It then shows here by
        itself, ready to start.
      </p>
    </>
  );
}

/** The server is there; the sheet of what is on the wall is yet to come. */
function OnItsWay() {
  return <h1>The practice is on its way.</h1>;
}

function NoServer() {
  return (
    <>
      <h1>The server is not there yet.</h1>
      <p>Look whether Farwall runs on the laptop, and whether this tablet is in the same network.</p>
    </>
  );
}
