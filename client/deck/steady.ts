import { computed, type ReadonlySignal } from '@preact/signals';

/**
 * A computed value that stays the same object while it says the same, so that what hangs on it is not drawn again at
 * every tick. For small plain values.
 */
export function steady<T>(compute: () => T): ReadonlySignal<T> {
  let last: { readonly value: T; readonly text: string } | null = null;
  return computed(() => {
    const value = compute();
    const text = JSON.stringify(value);
    if (last?.text !== text) last = { value, text };
    return last.value;
  });
}
