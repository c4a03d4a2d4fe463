import type { Scope } from '../../shared-types/changes.ts';
import { type SetNow, scopesOf } from './set-changes.ts';
import { scopeDetail, scopeWords } from './set-words.ts';
import { ViewButton } from './view-button.tsx';

interface ChooserProps {
  readonly set: SetNow;
  readonly chosen: Scope;
  readonly onChoose: (scope: Scope) => void;
}

/** Whom a change is for: everybody, a pace group, a lane; each with what it swims on now. */
export function ScopeChooser({ set, chosen, onChoose }: ChooserProps) {
  return (
    <div class="choices">
      {scopesOf(set).map((scope) => {
        const words = scopeWords(scope);
        return (
          <ViewButton
            key={words}
            class={words === scopeWords(chosen) ? 'choice chosen' : 'choice'}
            data={{ 'data-press': 'choose', 'data-scope': words }}
            onPress={() => onChoose(scope)}
          >
            {words} <small>{scopeDetail(set, scope)}</small>
          </ViewButton>
        );
      })}
    </div>
  );
}
