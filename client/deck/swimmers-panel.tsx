import { useMemo, useState } from 'preact/hooks';
import type { LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import type { Change } from '../../shared-types/changes.ts';
import type { Deck } from './deck-model.ts';
import { Panel } from './panel.tsx';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';
import { ViewButton } from './view-button.tsx';
import type { LaneSwimmerNow } from './who-swims.ts';

interface LaneProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
}

/** [CMD7] Who swims in a lane: sits out, comes back, goes to another lane, joins. */
export function SwimmersPanel({ deck, lane, onClose }: LaneProps & { readonly onClose: () => void }) {
  const swimmers = useMemo(() => steady(() => deck.swimmers(lane)), [deck, lane]).value;
  const [moving, setMoving] = useState<SwimmerId | null>(null);
  const inLane = swimmers.filter(({ is }) => is === 'swims' || is === 'stays');
  const others = swimmers.filter(({ is }) => is === 'out' || is === 'absent');
  const moved = inLane.find(({ swimmer }) => swimmer === moving);
  const head = <h2 class="panel-title">{moved ? `${moved.name} goes to` : `Who swims in lane ${lane}`}</h2>;
  if (moved) {
    return (
      <Panel name={`Move ${moved.name}`} head={head} closeWord="Cancel" onClose={() => setMoving(null)}>
        <Destinations
          deck={deck}
          lane={lane}
          who={moved}
          isFirst={inLane[0] === moved}
          onMoved={() => setMoving(null)}
        />
      </Panel>
    );
  }
  return (
    <Panel name={`Swimmers of lane ${lane}`} head={head} onClose={onClose}>
      <ul class="swimmers">
        {inLane.map((who) => (
          <Swimmer key={who.swimmer} deck={deck} lane={lane} who={who} onMove={() => setMoving(who.swimmer)} />
        ))}
      </ul>
      {inLane.length === 0 && <p>Nobody swims here now.</p>}
      {others.length > 0 && (
        <>
          <h3>In no lane now</h3>
          <ul class="swimmers">
            {others.map((who) => (
              <Swimmer key={who.swimmer} deck={deck} lane={lane} who={who} onMove={() => setMoving(who.swimmer)} />
            ))}
          </ul>
        </>
      )}
    </Panel>
  );
}

/** What can be pressed for a swimmer beside `Move`. */
const PRESSES = {
  swims: { kind: 'sitOut', words: 'Sit out' },
  stays: { kind: 'rejoin', words: 'Back in' },
  out: { kind: 'rejoin', words: 'Back in' },
  absent: { kind: 'join', words: 'Join' },
} as const;

interface SwimmerProps extends LaneProps {
  readonly who: LaneSwimmerNow;
  readonly onMove: () => void;
}

function Swimmer({ deck, lane, who: { swimmer, name, is }, onMove }: SwimmerProps) {
  const { kind, words } = PRESSES[is];
  const change: Change = kind === 'join' ? { kind, swimmer, lane } : { kind, swimmer };
  const disabled = deck.locked.value;
  return (
    <li class="swimmer" data-swimmer={swimmer} data-is={is}>
      <p class="swimmer-name">
        <bdi>{name}</bdi>
      </p>
      <PressButton
        class="plain"
        name={`${name}: ${words.toLowerCase()}`}
        disabled={disabled}
        data={{ 'data-press': kind }}
        onPress={(event) => deck.change(change, event)}
      >
        {words}
      </PressButton>
      {(is === 'swims' || is === 'stays') && (
        <ViewButton
          class="plain"
          name={`${name}: move`}
          disabled={disabled}
          data={{ 'data-press': 'move' }}
          onPress={onMove}
        >
          Move
        </ViewButton>
      )}
    </li>
  );
}

interface DestinationsProps extends LaneProps {
  readonly who: LaneSwimmerNow;
  readonly isFirst: boolean;
  readonly onMoved: () => void;
}

function Destinations({ deck, lane, who: { swimmer }, isFirst, onMoved }: DestinationsProps) {
  const lanes = useMemo(() => steady(() => deck.board.value.lanes.map((one) => one.lane)), [deck]).value;
  const move = (to: LaneNumber, order?: number) => (event: Event) => {
    deck.change({ kind: 'move', swimmer, lane: to, ...(order === undefined ? {} : { order }) }, event);
    onMoved();
  };
  return (
    <div class="choices">
      {!isFirst && (
        <ViewButton
          class="choice"
          disabled={deck.locked.value}
          data={{ 'data-press': 'first' }}
          onPress={move(lane, 1)}
        >
          first <small>in lane {lane}</small>
        </ViewButton>
      )}
      {lanes
        .filter((to) => to !== lane)
        .map((to) => (
          <ViewButton
            key={to}
            class="choice"
            disabled={deck.locked.value}
            data={{ 'data-press': 'to-lane', 'data-to': to }}
            onPress={move(to)}
          >
            lane {to}
          </ViewButton>
        ))}
    </div>
  );
}
