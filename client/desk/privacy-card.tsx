import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useId } from 'preact/hooks';
import { isolated } from '../../shared-types/isolated.ts';
import { KEEP_MONTHS, type Privacy, privacySchema, WALL_NAMES } from '../../shared-types/wire/privacy.ts';
import type { Desk } from './desk.ts';
import { exportAddress } from './privacy-swimmer.tsx';
import { monthsWords, NAMES_WORDS } from './privacy-words.ts';
import { ProblemNote } from './problem-note.tsx';

interface ChoiceProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
  readonly onValue: (value: string) => void;
}

function Choice({ name, label, value, options, onValue }: ChoiceProps): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} name={name} value={value} onChange={({ currentTarget }) => onValue(currentTarget.value)}>
        {options.map(({ value: one, words }) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

const FOR_EVER = 'none';
const NAMES = WALL_NAMES.map((value) => ({ value, words: NAMES_WORDS[value] }));
const MONTHS = [null, ...KEEP_MONTHS].map((months) => ({
  value: String(months ?? FOR_EVER),
  words: monthsWords(months),
}));

interface Fields {
  readonly names: string;
  readonly keepMonths: string;
}

const fieldsOf = ({ names, keepMonths }: Privacy): Fields => ({ names, keepMonths: String(keepMonths ?? FOR_EVER) });
const privacyFrom = ({ names, keepMonths }: Fields): Privacy =>
  privacySchema.parse({ names, keepMonths: keepMonths === FOR_EVER ? null : Number(keepMonths) });

/** Taken out of the squad, but not deleted: the name stands in the practices they were there for. */
function FormerSwimmers({ desk: { privacy } }: { desk: Desk }): JSX.Element {
  const former = privacy.former.value;
  return (
    <details class="former" onToggle={({ currentTarget }) => currentTarget.open && void privacy.lookForFormer()}>
      <summary>Out of the squad, but still stored</summary>
      {former?.length === 0 && <p class="quiet">Nobody.</p>}
      <ul>
        {former?.map(({ id, name }) => (
          <li key={id} data-former={id}>
            <bdi translate={false}>{name}</bdi>
            <a href={exportAddress(id)} download>
              Export
            </a>
            <button
              type="button"
              data-action="delete-former"
              aria-label={`Delete ${isolated(name)} for good`}
              onClick={() => void privacy.deleteForGood(id)}
            >
              Delete for good
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What walls call swimmers, and for how long what they swam is kept. */
export function PrivacyCard({ desk, stored }: { desk: Desk; stored: Privacy }): JSX.Element {
  const { privacy } = desk;
  const fields = useSignal<Fields>(fieldsOf(stored));
  const set = (more: Partial<Fields>): void => {
    fields.value = { ...fields.value, ...more };
  };
  const { names, keepMonths } = stored;
  useEffect(() => {
    fields.value = fieldsOf({ names, keepMonths });
  }, [fields, names, keepMonths]);
  const save = async (): Promise<void> => {
    await privacy.save(privacyFrom(fields.value));
    // Perhaps it was not taken.
    if (privacy.privacy.value) fields.value = fieldsOf(privacy.privacy.value);
  };
  return (
    <form
      class="card pool privacy"
      aria-label="Privacy"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <h2>Privacy</h2>
      <div class="fields">
        <Choice
          name="wall-names"
          label="Walls show"
          value={fields.value.names}
          options={NAMES}
          onValue={(names) => set({ names })}
        />
        <Choice
          name="keep-months"
          label="Keep what was swum"
          value={fields.value.keepMonths}
          options={MONTHS}
          onValue={(keepMonths) => set({ keepMonths })}
        />
      </div>
      <div class="actions">
        <button type="submit" data-action="save-privacy">
          Save
        </button>
        {stored.keepMonths !== null && (
          <button type="button" data-action="delete-older" onClick={() => void privacy.deleteOlder()}>
            Delete what is older now
          </button>
        )}
      </div>
      <p class="done" role="status">
        {privacy.done.value}
      </p>
      <ProblemNote problem={privacy.problem.value} />
      <FormerSwimmers desk={desk} />
    </form>
  );
}

/** Who was deleted last, and where the name still stands. */
export function DeletedNote({ desk: { privacy } }: { desk: Desk }): JSX.Element {
  const gone = privacy.gone.value;
  return (
    <>
      <p class="done" role="status" data-deleted>
        {gone?.words}
      </p>
      {gone && gone.mentions !== '' && (
        <p class="problem" role="alert" data-mentions>
          {gone.mentions}
        </p>
      )}
    </>
  );
}
