import type { ReadonlySignal } from '@preact/signals';
import type { JSX } from 'preact';

interface Counting {
  readonly rehearsed: ReadonlySignal<boolean>;
  countRehearsed(rehearsed: boolean): Promise<void>;
}

/** Whether what was only rehearsed counts, too. */
export function RehearsedTick({ counting, children }: { counting: Counting; children: string }): JSX.Element {
  return (
    <label class="check">
      <input
        type="checkbox"
        data-rehearsed
        checked={counting.rehearsed.value}
        onChange={({ currentTarget }) => void counting.countRehearsed(currentTarget.checked)}
      />
      {children}
    </label>
  );
}
