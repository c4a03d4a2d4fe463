import type { ComponentChildren, JSX } from 'preact';
import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { AbsencesModel } from './absences-model.ts';

interface Props {
  readonly absences: AbsencesModel;
  readonly swimmer: Pick<Swimmer, 'id' | 'name'>;
  readonly children?: ComponentChildren;
}

/** Whether a swimmer is here today. */
export function HereTick({ absences, swimmer: { id, name }, children }: Props): JSX.Element {
  const isAway = absences.away.value.has(id);
  return (
    <label class="here">
      <input
        type="checkbox"
        checked={!isAway}
        aria-label={`${isolated(name)} is here today`}
        data-here={id}
        onChange={({ currentTarget }) => void absences.set(id, !currentTarget.checked)}
      />
      {children ?? (isAway && 'away today')}
    </label>
  );
}
