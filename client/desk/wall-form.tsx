import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { WallInfo, WallSettings } from '../../shared-types/wire/walls.ts';
import { Modal } from './modal.tsx';
import type { Problem } from './problem.ts';
import { ProblemNote } from './problem-note.tsx';
import { WALL_FORM, type WallFields, wallFieldsOf, wallSettingsFrom } from './wall-fields.ts';
import { calledOf } from './wall-words.ts';
import type { WallsModel } from './walls-model.ts';

const isProblem = (read: WallSettings | Problem): read is Problem => 'message' in read;

interface FieldProps {
  readonly field: (typeof WALL_FORM)[number];
  readonly value: string;
  readonly onValue: (value: string) => void;
}

function Field({ field: { name, label, options, hint }, value, onValue }: FieldProps): JSX.Element {
  const id = useId();
  const hintId = `${id}-hint`;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {options ? (
        <select id={id} name={name} value={value} onChange={({ currentTarget }) => onValue(currentTarget.value)}>
          {options.map(([one, words]) => (
            <option key={one} value={one}>
              {words}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          name={name}
          value={value}
          aria-describedby={hint === undefined ? undefined : hintId}
          onInput={({ currentTarget }) => onValue(currentTarget.value)}
        />
      )}
      {hint && (
        <span class="quiet" id={hintId}>
          {hint}
        </span>
      )}
    </div>
  );
}

/** One wall's settings, in a dialog. They apply on the wall as soon as they are saved. */
export function WallForm({ walls, wall }: { walls: WallsModel; wall: WallInfo }): JSX.Element {
  const fields = useSignal<WallFields>(wallFieldsOf(wall));
  const unread = useSignal<Problem | null>(null);
  const save = (): void => {
    const read = wallSettingsFrom(fields.value);
    unread.value = isProblem(read) ? read : null;
    if (!isProblem(read)) void walls.save(wall.device, read);
  };
  return (
    <Modal title={`Set up ${calledOf(wall)}`} onLeave={() => walls.leave()}>
      <form
        class="wall-form"
        onSubmit={(event) => {
          event.preventDefault();
          save();
        }}
      >
        {WALL_FORM.map((field) => (
          <Field
            key={field.name}
            field={field}
            value={fields.value[field.name]}
            onValue={(value) => {
              fields.value = { ...fields.value, [field.name]: value };
            }}
          />
        ))}
        <ProblemNote problem={unread.value ?? walls.refused.value} />
        <div class="choices">
          <button type="button" data-action="leave-wall" onClick={() => walls.leave()}>
            Leave it as it is
          </button>
          <button type="submit" class="strong" data-action="save-wall">
            Save
          </button>
        </div>
      </form>
    </Modal>
  );
}
