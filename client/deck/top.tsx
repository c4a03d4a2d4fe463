import { useComputed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Deck } from './deck-model.ts';
import { SlowButton } from './slow-button.tsx';
import { steady } from './steady.ts';
import { ViewButton } from './view-button.tsx';
import { happening } from './words.ts';

/** What is happening now, the clock, and how far both can be trusted. */
export function Top({ deck }: { readonly deck: Deck }) {
  const finish = useComputed(() => deck.offer.value.finish).value;
  const locked = useComputed(() => deck.locked.value).value;
  return (
    <header class="top">
      <Clock deck={deck} />
      {finish && <ChangeButton deck={deck} />}
      {finish && (
        <SlowButton
          class="finish"
          press="finish"
          word="Finish"
          more="hold"
          description="Ends the practice when it is held."
          disabled={locked}
          onHeld={() => deck.presses.runWide({ kind: 'finish', pressedAt: deck.pressedNow() })}
        />
      )}
      <div class="now">
        <Happening deck={deck} />
        <Notice deck={deck} />
      </div>
    </header>
  );
}

/** Opens what is rarely pressed, and closes it: nothing that runs the practice is covered meanwhile. */
function ChangeButton({ deck }: { readonly deck: Deck }) {
  const isOpen = useComputed(() => deck.panel.value?.kind === 'change').value;
  return (
    <ViewButton
      class={isOpen ? 'change open' : 'change'}
      expanded={isOpen}
      data={{ 'data-press': 'change' }}
      onPress={() => deck.show(isOpen ? null : { kind: 'change' })}
    >
      Change <small>{isOpen ? 'close' : 'the set'}</small>
    </ViewButton>
  );
}

function Clock({ deck }: { readonly deck: Deck }) {
  const hours = useComputed(() => deck.board.value.timeOfDay);
  const seconds = useComputed(() => `:${String(Math.floor(deck.board.value.pastMinuteMs / 1000)).padStart(2, '0')}`);
  const link = deck.linkState.value;
  return (
    <div class="clock">
      <p class="clock-face" role="timer" aria-label="Pool clock">
        <span class="clock-hours">{hours}</span>
        <span class="clock-seconds" data-clock>
          {seconds}
        </span>
      </p>
      <p class={link.warn ? 'link-words warn' : 'link-words'} role="status" data-link-words>
        {link.words}
        {deck.kept.value !== '' && <span data-kept>; {deck.kept.value}</span>}
      </p>
    </div>
  );
}

function Happening({ deck }: { readonly deck: Deck }) {
  const words = useMemo(() => steady(() => happening(deck.board.value)), [deck]);
  const { where, what, rep, upNext } = words.value;
  if (deck.board.value.phase === 'idle') return null;
  return (
    <div class="happening">
      <p class="where">{where}</p>
      <p class="what">{what}</p>
      <p class="rep">
        {rep !== '' && <span>{rep}</span>}
        {upNext !== '' && <span class="up-next">{upNext}</span>}
      </p>
    </div>
  );
}

/** A refusal, over what is happening, where the coach looks; the region stays in the page so that it is read out. */
function Notice({ deck }: { readonly deck: Deck }) {
  const notice = deck.presses.notice.value;
  return (
    <div class="notice-place" role="alert" data-notice>
      {notice && (
        <button type="button" class="notice" onClick={() => deck.presses.dismiss()}>
          {notice.words}
        </button>
      )}
    </div>
  );
}
