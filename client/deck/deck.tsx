import { useComputed } from '@preact/signals';
import { ChangePanel } from './change-panel.tsx';
import { Controls } from './controls.tsx';
import type { Deck } from './deck-model.ts';
import { KeypadPanel } from './keypad-panel.tsx';
import { LanePanel } from './lane-panel.tsx';
import { Lanes } from './lanes.tsx';
import { NothingOn } from './nothing-on.tsx';
import { Repairs } from './repairs.tsx';
import { ResultsPanel } from './results-panel.tsx';
import { SwimmersPanel } from './swimmers-panel.tsx';
import { TimesPanel } from './times-panel.tsx';
import { Top } from './top.tsx';

/** The whole page. `data-state`, `data-link` and `data-told` say for tests and styles what it is showing. */
export function DeckPage({ deck }: { readonly deck: Deck }) {
  const state = useComputed(() => deck.board.value.phase);
  const isIdle = useComputed(() => deck.board.value.phase === 'idle').value;
  return (
    <main class="deck" data-deck data-state={state} data-link={deck.link.state} data-told={deck.link.told}>
      <Top deck={deck} />
      {isIdle ? (
        <NothingOn deck={deck} />
      ) : (
        <>
          <Lanes deck={deck} />
          <Opened deck={deck} />
          <Repairs deck={deck} />
          <Controls deck={deck} />
        </>
      )}
    </main>
  );
}

/** What lies over the lanes, when something does. */
function Opened({ deck }: { readonly deck: Deck }) {
  const close = (): void => deck.show(null);
  const opened = deck.panel.value;
  if (!opened) return null;
  if (opened.kind === 'change') return <ChangePanel deck={deck} onClose={close} />;
  const { lane } = opened;
  switch (opened.kind) {
    case 'lane':
      return <LanePanel deck={deck} lane={lane} onClose={close} />;
    case 'swimmers':
      return <SwimmersPanel deck={deck} lane={lane} onClose={close} />;
    case 'times':
      return <TimesPanel key={lane} deck={deck} lane={lane} onClose={close} />;
    case 'results':
      return <ResultsPanel deck={deck} lane={lane} onClose={close} />;
    case 'keypad':
      return <KeypadPanel key={lane} deck={deck} lane={lane} onClose={close} />;
  }
}
