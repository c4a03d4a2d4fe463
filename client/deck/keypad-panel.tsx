import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LaneNumber } from '../../shared-types/brand.ts';
import { readCalledTime } from '../../shared-types/called-time.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { Deck } from './deck-model.ts';
import { isSameThing, type Thing } from './lane-marks.ts';
import { Panel } from './panel.tsx';
import { PressButton } from './press-button.tsx';
import { steady } from './steady.ts';
import { type Callable, callableIn } from './time-grid.ts';

interface KeypadProps {
  readonly deck: Deck;
  readonly lane: LaneNumber;
  readonly onClose: () => void;
}

/** Longer than any time that can be read. */
const MOST_FIGURES = 6;

/** Times called out, typed one after the other: for the next expected swimmer unless another is chosen. */
export function KeypadPanel({ deck, lane, onClose }: KeypadProps) {
  const callable = useMemo(
    () =>
      steady(() => {
        const { at } = deck.board.value;
        const known = deck.times.known(at);
        return known ? callableIn(known, lane, at) : [];
      }),
    [deck, lane],
  ).value;
  const [figures, setFigures] = useState('');
  const [wanted, setWanted] = useState<Thing | null>(null);
  const [told, setTold] = useState('');
  const chosen = callable.find(({ thing }) => wanted && isSameThing(thing, wanted)) ?? callable[0];
  const type = (figure: string): void => {
    // Whose it is stays, though others may come to be expected while it is typed.
    if (chosen) setWanted(chosen.thing);
    setFigures((figures + figure).slice(0, MOST_FIGURES));
    setTold('');
  };
  const rub = (): void => setFigures(figures.slice(0, -1));
  const keep = (): void => {
    if (!chosen) return;
    const read = readCalledTime(figures, chosen.thing.distance);
    if (!read.ok) {
      setTold(read.message);
      return;
    }
    deck.times.type(lane, chosen.thing, read.ms);
    setTold(`${chosen.name} ${formatSwimTime(read.ms, 1)} is kept.`);
    setFigures('');
    setWanted(null);
  };
  useFigureKeys({ type, rub, keep });
  const head = (
    <div class="called-out">
      <h2 class="set-where">Called out, lane {lane}</h2>
      <p class="typed" role="status" data-typed>
        {told === '' ? <Typed figures={figures} who={chosen} /> : told}
      </p>
    </div>
  );
  return (
    <Panel name={`Type a time called out in lane ${lane}`} head={head} onClose={onClose}>
      {callable.length === 0 && <p>Nobody has left in this lane yet.</p>}
      <div class="choices">
        {callable.map((one) => (
          <Who
            key={JSON.stringify(one.thing)}
            who={one}
            isChosen={one === chosen}
            onChoose={() => setWanted(one.thing)}
          />
        ))}
      </div>
      <div class="keypad">
        {['1', '2', '3', 'rub', '4', '5', '6', '0', '7', '8', '9'].map((key) =>
          key === 'rub' ? (
            <PressButton
              key={key}
              class="key"
              name="Rub out"
              disabled={figures === ''}
              data={{ 'data-press': 'rub' }}
              onPress={rub}
            >
              ⌫
            </PressButton>
          ) : (
            <PressButton
              key={key}
              class="key"
              disabled={false}
              data={{ 'data-press': 'key', 'data-key': key }}
              onPress={() => type(key)}
            >
              {key}
            </PressButton>
          ),
        )}
        <PressButton
          class="key chosen"
          disabled={!chosen || figures === ''}
          data={{ 'data-press': 'keep' }}
          onPress={keep}
        >
          Keep
        </PressButton>
      </div>
    </Panel>
  );
}

/** What is typed, as it will be read. */
function Typed({ figures, who }: { readonly figures: string; readonly who: Callable | undefined }) {
  if (!who) return null;
  const read = readCalledTime(figures, who.thing.distance);
  const words = read.ok ? formatSwimTime(read.ms, 1) : figures;
  return (
    <>
      {who.name} {who.place} <strong>{words === '' ? '–' : words}</strong>
    </>
  );
}

interface WhoProps {
  readonly who: Callable;
  readonly isChosen: boolean;
  readonly onChoose: () => void;
}

function Who({ who: { name, place, time, target }, isChosen, onChoose }: WhoProps) {
  const words = [name, place].filter((part) => part !== '').join(' ');
  return (
    <PressButton
      class={isChosen ? 'choice chosen' : 'choice'}
      disabled={false}
      data={{ 'data-press': 'who', 'data-who': words }}
      onPress={onChoose}
    >
      {isChosen && <span class="visually-hidden">chosen: </span>}
      {words} <small>{time === '' ? target : `has ${time}`}</small>
    </PressButton>
  );
}

interface FigureKeys {
  readonly type: (figure: string) => void;
  readonly rub: () => void;
  readonly keep: () => void;
}

/** A keyboard types as the keypad does. */
function useFigureKeys(keys: FigureKeys): void {
  const newest = useRef(keys);
  newest.current = keys;
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const isOnButton = event.target instanceof HTMLButtonElement;
      if (/^\d$/.test(event.key)) newest.current.type(event.key);
      else if (event.key === 'Backspace') newest.current.rub();
      else if (event.key === 'Enter' && !isOnButton) newest.current.keep();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
}
