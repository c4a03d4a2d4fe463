import { useComputed } from '@preact/signals';
import type { When } from '../../shared-types/commands.ts';
import type { Press } from '../common/live.ts';
import { type Action, QUARTERS } from './actions.ts';
import type { Deck } from './deck-model.ts';
import { PressButton } from './press-button.tsx';
import { SlowButton } from './slow-button.tsx';

/** Longer words are written smaller. */
const LONG = 8;

interface PartProps {
  readonly deck: Deck;
}

/** The run-wide buttons: the one that usually comes next, biggest; the rest below it. */
export function Controls({ deck }: PartProps) {
  const offer = deck.offer.value;
  const isHeld = useComputed(() => deck.board.value.phase === 'held').value;
  return (
    <section class="controls" aria-label="Run the practice" data-gates={offer.main.length}>
      {offer.main.map((action) => (
        <MainRow key={`${action.press} ${action.gate ?? ''}`} deck={deck} action={action} />
      ))}
      {offer.main.length === 0 && <Resting deck={deck} />}
      <div class={offer.quarters ? 'second quarters' : 'second'}>
        {offer.quarters && QUARTERS.map((when) => <Quarter key={when} deck={deck} when={when} />)}
        {offer.hold && <Hold deck={deck} />}
        {offer.nextToo && <NextToo deck={deck} />}
        {offer.back && <Back deck={deck} />}
        {offer.nextSet && <NextSet deck={deck} />}
        <Recall deck={deck} />
        <Undo deck={deck} />
        {isHeld && <p class="resting">The rep in hand is finished, then everyone waits.</p>}
      </div>
    </section>
  );
}

/** The press that an action is, at the instant of its event. */
function pressOf({ press, gate }: Action, when: When, pressedAt: Press['pressedAt']): Press {
  return press === 'go' ? { kind: 'go', gate: gate ?? 0, when, pressedAt } : { kind: press, when, pressedAt };
}

/** The big button that acts on the clock's next round reading, and a smaller one beside it that acts at once. */
function MainRow({ deck, action }: PartProps & { readonly action: Action }) {
  const { press, gate, word, whom, waits = false } = action;
  const disabled = deck.locked.value || waits;
  const data = { 'data-press': press, ...(gate === undefined ? {} : { 'data-gate': gate }) };
  const send = (when: When) => (event: Event) => deck.presses.runWide(pressOf(action, when, deck.pressedAt(event)));
  return (
    <div class="main-row">
      <PressButton class="main" disabled={disabled} data={{ ...data, 'data-when': 'grid' }} onPress={send('grid')}>
        <span class={word.length > LONG ? 'main-word long' : 'main-word'}>{word}</span>
        {whom !== '' && <span class="main-whom">{whom}</span>}
        <MainReading deck={deck} press={press} />
      </PressButton>
      <PressButton
        class="now-button"
        name={`${word} ${whom} now`.replace('  ', ' ')}
        disabled={disabled}
        data={{ ...data, 'data-when': 'now' }}
        onPress={send('now')}
      >
        now
      </PressButton>
    </div>
  );
}

/** What the pool's clock will show when the button takes effect, or that it cannot. [CMD8] */
function MainReading({ deck, press }: PartProps & Pick<Action, 'press'>) {
  if (deck.link.state.value !== 'live') return <span class="main-at">no server</span>;
  return press === 'resume' ? (
    <span class="main-at">for {deck.resumeReading}</span>
  ) : (
    <span class="main-at">at {deck.reading}</span>
  );
}

/** In the big button's place when there is nothing to press. */
function Resting({ deck }: PartProps) {
  const isFinished = useComputed(() => deck.board.value.phase === 'finished').value;
  return (
    <p class="resting">
      {isFinished
        ? 'The practice is finished. The next one is put on the wall from the desk.'
        : 'Every lane is through. Hold Finish to end the practice.'}
    </p>
  );
}

function Quarter({ deck, when }: PartProps & { readonly when: (typeof QUARTERS)[number] }) {
  return (
    <PressButton
      class="plain"
      name={`Start at ${when}`}
      disabled={deck.locked.value}
      data={{ 'data-press': 'start', 'data-when': when }}
      onPress={(event) => deck.presses.runWide({ kind: 'start', when, pressedAt: deck.pressedAt(event) })}
    >
      {when}
    </PressButton>
  );
}

function Hold({ deck }: PartProps) {
  return (
    <PressButton
      class="hold"
      disabled={deck.locked.value}
      data={{ 'data-press': 'hold' }}
      onPress={(event) => deck.presses.runWide({ kind: 'hold', pressedAt: deck.pressedAt(event) })}
    >
      Hold
    </PressButton>
  );
}

function NextToo({ deck }: PartProps) {
  return (
    <PressButton
      class="plain"
      disabled={deck.locked.value}
      data={{ 'data-press': 'next', 'data-when': 'grid' }}
      onPress={(event) => deck.presses.runWide({ kind: 'next', when: 'grid', pressedAt: deck.pressedAt(event) })}
    >
      Next <small>at {deck.reading}</small>
    </PressButton>
  );
}

function Back({ deck }: PartProps) {
  return (
    <PressButton
      class="plain"
      disabled={deck.locked.value}
      data={{ 'data-press': 'back', 'data-when': 'grid' }}
      onPress={(event) => deck.presses.runWide({ kind: 'back', when: 'grid', pressedAt: deck.pressedAt(event) })}
    >
      Back <small>repeat {deck.reading}</small>
    </PressButton>
  );
}

function NextSet({ deck }: PartProps) {
  return (
    <PressButton
      class="plain"
      disabled={deck.locked.value}
      data={{ 'data-press': 'nextSet', 'data-when': 'grid' }}
      onPress={(event) => deck.presses.runWide({ kind: 'nextSet', when: 'grid', pressedAt: deck.pressedAt(event) })}
    >
      Next set <small>at {deck.reading}</small>
    </PressButton>
  );
}

/** A false start. */
function Recall({ deck }: PartProps) {
  const isOffered = deck.recall.value;
  const recall = (pressedAt: Press['pressedAt']): void => deck.presses.runWide({ kind: 'recall', pressedAt });
  if (deck.heats.value.length > 0) {
    return <HeatRecall disabled={deck.locked.value || !isOffered} onHeld={() => recall(deck.pressedNow())} />;
  }
  if (!isOffered) return null;
  return (
    <PressButton
      class="plain"
      disabled={deck.locked.value}
      data={{ 'data-press': 'recall' }}
      onPress={(event) => recall(deck.pressedAt(event))}
    >
      Recall <small>false start</small>
    </PressButton>
  );
}

/** With heats it stays in one place, pale while there is nobody to have back, and must not happen by mistake. */
const HeatRecall = (props: { readonly disabled: boolean; readonly onHeld: () => void }) => (
  <SlowButton
    class="recall"
    press="recall"
    word="Recall"
    more="false start: hold"
    description="Has everybody of the heat back when it is held; their times do not count."
    {...props}
  />
);

function Undo({ deck }: PartProps) {
  const what = deck.undo.value;
  if (what === '') return null;
  return (
    <PressButton
      class="plain undo"
      disabled={deck.locked.value}
      data={{ 'data-press': 'undo' }}
      onPress={(event) => deck.presses.runWide({ kind: 'undo', pressedAt: deck.pressedAt(event) })}
    >
      Undo <small>{what}</small>
    </PressButton>
  );
}
