import type { JSX } from 'preact';
import { DEFAULT_POOL, unitOf } from '../../shared-types/pool.ts';
import { STYLES } from '../../shared-types/practice.ts';
import type { Desk } from './desk.ts';
import type { Wanted } from './library-search.ts';

interface FieldProps {
  readonly desk: Desk;
  readonly name: keyof Wanted;
  readonly label: string;
}

const DistanceField = ({ desk: { search }, name, label }: FieldProps): JSX.Element => (
  <label>
    <span>{label}</span>
    <input
      type="text"
      inputMode="numeric"
      data-find={name}
      value={search.wanted.value[name]}
      onInput={({ currentTarget }) => search.want({ [name]: currentTarget.value })}
    />
  </label>
);

const DayField = ({ desk: { search }, name, label }: FieldProps): JSX.Element => (
  <label>
    <span>{label}</span>
    <input
      type="date"
      data-find={name}
      value={search.wanted.value[name]}
      onInput={({ currentTarget }) => search.want({ [name]: currentTarget.value })}
    />
  </label>
);

/** Finds practices by words in them, style, distance and the day they were saved. */
export function LibrarySearchFields({ desk }: { desk: Desk }): JSX.Element {
  const { search, squad } = desk;
  const unit = unitOf((squad.pool.value ?? DEFAULT_POOL).course);
  return (
    <search class="library-search">
      <label>
        <span class="visually-hidden">Find practices</span>
        <input
          type="search"
          placeholder="Find, as: 50 free pull"
          data-find="text"
          value={search.wanted.value.text}
          onInput={({ currentTarget }) => search.want({ text: currentTarget.value })}
        />
      </label>
      <details>
        <summary>Style, distance, day</summary>
        <label>
          <span>Style</span>
          <select
            data-find="style"
            value={search.wanted.value.style}
            onChange={({ currentTarget }) => search.want({ style: currentTarget.value })}
          >
            <option value="">any</option>
            {STYLES.map((style) => (
              <option key={style} value={style}>
                {style}
              </option>
            ))}
          </select>
        </label>
        <DistanceField desk={desk} name="least" label={`From, ${unit}`} />
        <DistanceField desk={desk} name="most" label={`To, ${unit}`} />
        <DayField desk={desk} name="from" label="Saved from" />
        <DayField desk={desk} name="to" label="Saved to" />
      </details>
      {search.isAsked.value && (
        <button type="button" class="plain" data-action="clear-search" onClick={search.clear}>
          Show all
        </button>
      )}
    </search>
  );
}
