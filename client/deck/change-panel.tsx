import { useMemo, useState } from 'preact/hooks';
import type { Change, Scope } from '../../shared-types/changes.ts';
import type { Deck } from './deck-model.ts';
import { Panel } from './panel.tsx';
import { PressButton } from './press-button.tsx';
import { ScopeChooser } from './scope-chooser.tsx';
import { canStep, chosenSet, lanesIn, type SetNow, STEP, scopesOf, stepped, type What } from './set-changes.ts';
import { SetStepper } from './set-stepper.tsx';
import { scopeWords, stepWords, valueWords, WHAT_WORDS, whereWords } from './set-words.ts';
import { steady } from './steady.ts';
import { ViewButton } from './view-button.tsx';

const ALL: Scope = { kind: 'all' };

/** Whether two scopes mean the same lanes. */
const isSame = (a: Scope, b: Scope): boolean => scopeWords(a) === scopeWords(b);

/** [CMD7] Changes the set in hand, or one to come: for everybody, a pace group or a lane. */
export function ChangePanel({ deck, onClose }: { readonly deck: Deck; readonly onClose: () => void }) {
  const sets = useMemo(() => steady(() => deck.sets()), [deck]).value;
  // It stays while the lanes go on: what is about to be skipped must not change under the finger.
  const [key, setKey] = useState<string | null>(() => chosenSet(sets, null)?.key ?? null);
  const [wanted, setWanted] = useState<Scope>(ALL);
  const [isChoosing, setChoosing] = useState(false);
  const set = chosenSet(sets, key);
  const scope = (set && scopesOf(set).find((one) => isSame(one, wanted))) ?? ALL;
  const choose = (one: Scope): void => {
    setWanted(one);
    setChoosing(false);
  };
  const head = set ? (
    <ViewButton
      class="scope"
      expanded={isChoosing}
      data={{ 'data-press': 'scope' }}
      onPress={() => setChoosing(!isChoosing)}
    >
      <small>change for</small> {scopeWords(scope)} <span aria-hidden="true">{isChoosing ? '▴' : '▾'}</span>
    </ViewButton>
  ) : (
    <p class="panel-title">Nothing is left to change.</p>
  );
  return (
    <Panel name="Change the practice" head={head} onClose={onClose}>
      {set && isChoosing && <ScopeChooser set={set} chosen={scope} onChoose={choose} />}
      {set && !isChoosing && (
        <>
          <SetStepper sets={sets} place={sets.indexOf(set)} onStep={(one) => setKey(one.key)}>
            <div class="set-words" role="status" data-set={set.key}>
              <p class="set-where">{whereWords(set)}</p>
              <p class="set-what">{set.words}</p>
            </div>
          </SetStepper>
          <SetButtons deck={deck} set={set} scope={scope} />
        </>
      )}
    </Panel>
  );
}

interface SetProps {
  readonly deck: Deck;
  readonly set: SetNow;
}

function SetButtons({ deck, set, scope }: SetProps & { readonly scope: Scope }) {
  const send = (change: Change) => (event: Event) => deck.change(change, event);
  const disabled = deck.locked.value;
  return (
    <div class="set-buttons">
      {(['intervalMs', 'count', 'apartMs'] as const).map((what) => (
        <Adjust key={what} deck={deck} set={set} scope={scope} what={what} />
      ))}
      <div class="whole-set">
        <PressButton
          class="plain"
          disabled={disabled || !set.lanes.some(({ isAhead }) => isAhead)}
          data={{ 'data-press': 'skip' }}
          onPress={send({ kind: 'skip', set: set.key })}
        >
          Skip <small>set, all lanes</small>
        </PressButton>
        <PressButton
          class="plain"
          disabled={disabled}
          data={{ 'data-press': 'repeat' }}
          onPress={send({ kind: 'repeat', set: set.key, after: set.round })}
        >
          Repeat <small>set, all lanes</small>
        </PressButton>
      </div>
    </div>
  );
}

interface AdjustProps extends SetProps {
  readonly scope: Scope;
  readonly what: What;
}

/** What holds now, and a press less or more of it. */
function Adjust({ deck, set, scope, what }: AdjustProps) {
  const lanes = lanesIn(set, scope);
  const button = (towards: -1 | 1) => (
    <PressButton
      class="step"
      name={`${WHAT_WORDS[what]} ${stepWords(towards * STEP[what], what)} for ${scopeWords(scope)}`}
      disabled={deck.locked.value || !canStep(what, towards, set, lanes)}
      data={{ 'data-press': 'adjust', 'data-what': what, 'data-by': towards * STEP[what] }}
      onPress={(event) => deck.change(stepped(set, scope, what, towards), event)}
    >
      {stepWords(towards * STEP[what], what)}
    </PressButton>
  );
  return (
    <div class="adjust">
      {button(-1)}
      <p class="adjust-words" data-value={what}>
        <span class="adjust-what">{WHAT_WORDS[what]}</span> <strong>{valueWords(set, what, lanes)}</strong>
      </p>
      {button(1)}
    </div>
  );
}
