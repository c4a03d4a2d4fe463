import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';

/** A click so soon after a pointer's release is that release's own. */
const SAME_PRESS_MS = 700;

interface PressButtonProps {
  /** The accessible name, when the writing on the button does not say it all. */
  readonly name?: string;
  readonly class: string;
  readonly disabled: boolean;
  /** `data-` attributes, by which tests find the button. */
  readonly data: Readonly<Record<`data-${string}`, string | number>>;
  /** Called with the event whose `timeStamp` is the press's instant. */
  readonly onPress: (event: Event) => void;
  readonly children: ComponentChildren;
}

/**
 * Acts when the finger is lifted inside it; a finger that slides off, or a touch the system takes away, does nothing.
 * Keys and screen readers press it by a click without a pointer.
 */
export function PressButton({ name, class: classes, disabled, data, onPress, children }: PressButtonProps) {
  const finger = useRef<number | null>(null);
  const releasedAt = useRef(Number.NEGATIVE_INFINITY);

  const down = (event: PointerEvent): void => {
    if (event.button === 0) finger.current = event.pointerId;
  };
  const up = (event: PointerEvent & { currentTarget: HTMLButtonElement }): void => {
    releasedAt.current = event.timeStamp;
    const same = finger.current === event.pointerId;
    finger.current = null;
    if (same && isInside(event.currentTarget, event)) onPress(event);
  };
  const cancel = (): void => {
    finger.current = null;
  };
  const click = (event: Event): void => {
    if (event.timeStamp - releasedAt.current > SAME_PRESS_MS) onPress(event);
  };
  return (
    <button
      type="button"
      class={classes}
      disabled={disabled}
      aria-label={name}
      {...data}
      onPointerDown={down}
      onPointerUp={up}
      onPointerCancel={cancel}
      onClick={click}
    >
      {children}
    </button>
  );
}

function isInside(element: Element, { clientX, clientY }: PointerEvent): boolean {
  const { left, right, top, bottom } = element.getBoundingClientRect();
  return clientX >= left && clientX <= right && clientY >= top && clientY <= bottom;
}
