import type { ComponentChildren, JSX } from 'preact';

interface Props {
  /** What is in the table, for who does not see it. */
  readonly label: string;
  readonly children: ComponentChildren;
}

/** Where a table wider than the page is scrolled. */
export function TableFrame({ label, children }: Props): JSX.Element {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be reached by keyboard
    <section class="table-frame" aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
