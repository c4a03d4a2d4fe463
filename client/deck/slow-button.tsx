import { useEffect, useRef, useState } from 'preact/hooks';

/** How long it has to be held, ms; top.css lets its bar run for the same time. */
const HOLD_MS = 800;

interface SlowButtonProps {
  readonly class: string;
  /** What tests find it by. */
  readonly press: string;
  readonly word: string;
  /** Below the word, while nobody holds it. */
  readonly more: string;
  /** What it does when it is held, as a sentence. */
  readonly description: string;
  readonly disabled: boolean;
  readonly onHeld: () => void;
}

/** For what must not happen by mistake: held with a finger, Enter or the space bar until its bar is full. */
export function SlowButton({ class: own, press, word, more, description, disabled, onHeld }: SlowButtonProps) {
  const [holding, setHolding] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);

  const letGo = (): void => {
    clearTimeout(timer.current);
    setHolding(false);
  };
  const begin = (): void => {
    letGo();
    setHolding(true);
    timer.current = setTimeout(() => {
      letGo();
      onHeld();
    }, HOLD_MS);
  };
  useEffect(() => letGo, []);
  const isHoldKey = ({ key }: KeyboardEvent): boolean => key === 'Enter' || key === ' ';
  return (
    <button
      type="button"
      class={`${own} slow${holding ? ' holding' : ''}`}
      disabled={disabled}
      data-press={press}
      aria-description={description}
      onPointerDown={({ button }) => button === 0 && begin()}
      onPointerUp={letGo}
      onPointerLeave={letGo}
      onPointerCancel={letGo}
      onContextMenu={(event) => event.preventDefault()}
      onKeyDown={(event) => isHoldKey(event) && !event.repeat && begin()}
      onKeyUp={(event) => isHoldKey(event) && letGo()}
      onBlur={letGo}
    >
      <span class="slow-bar" aria-hidden="true" />
      <span class="slow-words">
        {word}
        <small>{holding ? 'hold on' : more}</small>
      </span>
    </button>
  );
}
