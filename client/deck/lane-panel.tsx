import { useMemo } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import type { Deck, OpenPanel } from './deck-model.ts';
import { Panel } from './panel.tsx';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';
import { ViewButton } from './view-button.tsx';

/** One press moves a lane so far, ms. */
const STEP_MS = 5000;

interface LaneProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
}

/** What is rarely pressed for one lane. Whether it has been shifted only the server knows; it says so in words. */
export function LanePanel({ deck, lane, onClose }: LaneProps & { readonly onClose: () => void }) {
  const row = useMemo(() => steady(() => deck.lane(lane)), [deck, lane]).value;
  // A lane that waits, or is done, has nothing to move.
  const disabled = deck.link.state.value !== 'live' || !row?.moves;
  return (
    <Panel name={`Lane ${lane}`} head={<h2 class="panel-title">Lane {lane}</h2>} onClose={onClose}>
      <div class="lane-menu" data-lane={lane}>
        <Opener deck={deck} opens={{ kind: 'times', lane }} press="times" word="Times" more="of this set" />
        <Opener deck={deck} opens={{ kind: 'results', lane }} press="results" word="Results" more="so far" />
        <Opener deck={deck} opens={{ kind: 'keypad', lane }} press="keypad" word="Type" more="a time called out" />
        <Opener deck={deck} opens={{ kind: 'swimmers', lane }} press="who" word="Who" more="swims" />
        <Shift deck={deck} lane={lane} byMs={-STEP_MS} disabled={disabled} />
        <Shift deck={deck} lane={lane} byMs={STEP_MS} disabled={disabled} />
        <PressButton
          class="shift"
          name={`Realign lane ${lane}`}
          disabled={disabled}
          data={{ 'data-press': 'realign' }}
          onPress={(event) => deck.presses.oneLane({ kind: 'realign', lane, pressedAt: deck.pressedAt(event) })}
        >
          Realign
        </PressButton>
      </div>
    </Panel>
  );
}

interface OpenerProps {
  readonly deck: Deck;
  readonly opens: OpenPanel;
  readonly press: string;
  readonly word: string;
  readonly more: string;
}

/** Opens something else in this panel's place. */
const Opener = ({ deck, opens, press, word, more }: OpenerProps) => (
  <ViewButton class="shift" data={{ 'data-press': press }} onPress={() => deck.show(opens)}>
    {word} <small>{more}</small>
  </ViewButton>
);

interface ShiftProps extends LaneProps {
  readonly byMs: number;
  readonly disabled: boolean;
}

function Shift({ deck, lane, byMs, disabled }: ShiftProps) {
  const seconds = Math.abs(byMs) / 1000;
  return (
    <PressButton
      class="shift"
      disabled={disabled}
      data={{ 'data-press': 'shift', 'data-by': byMs }}
      onPress={(event) => deck.presses.oneLane({ kind: 'shift', lane, byMs, pressedAt: deck.pressedAt(event) })}
    >
      <span class="visually-hidden">Lane {lane} </span>
      {byMs < 0 ? '−' : '+'}
      {seconds} s <small>{byMs < 0 ? 'earlier' : 'later'}</small>
    </PressButton>
  );
}
