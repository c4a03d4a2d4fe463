import type { Deck } from './deck-model.ts';
import { ViewButton } from './view-button.tsx';

/** What to look at before anybody dives, until it has been read. */
export function Caution({ deck }: { readonly deck: Deck }) {
  const words = deck.caution.value;
  if (words === '') return null;
  return (
    <div class="caution" role="note" data-caution>
      <p>{words}</p>
      <ViewButton class="plain" data={{ 'data-press': 'read' }} onPress={() => deck.readCaution()}>
        Read
      </ViewButton>
    </div>
  );
}
