import type { ComponentChildren } from 'preact';

interface ViewButtonProps {
  /** The accessible name, when the writing on the button does not say it all. */
  readonly name?: string;
  readonly class: string;
  readonly disabled?: boolean;
  /** Of a button that opens something: whether it is open. */
  readonly expanded?: boolean;
  /** `data-` attributes, by which tests find the button. */
  readonly data: Readonly<Record<`data-${string}`, string | number>>;
  readonly onPress: (event: Event) => void;
  readonly children: ComponentChildren;
}

/**
 * Puts something else in its own place. It acts on the click that ends a press: if it acted as the finger is lifted, the
 * click that follows would fall on whatever came there.
 */
export function ViewButton(props: ViewButtonProps) {
  const { name, class: classes, disabled = false, expanded, data, onPress, children } = props;
  return (
    <button
      type="button"
      class={classes}
      disabled={disabled}
      aria-label={name}
      aria-expanded={expanded}
      {...data}
      onClick={onPress}
    >
      {children}
    </button>
  );
}
