import { useEffect, useRef, useState } from 'preact/hooks';

/** How long it has to be held, ms; deck.css lets its bar run for the same time. */
const HOLD_MS = 800;

interface FinishButtonProps {
  readonly disabled: boolean;
  readonly onHeld: () => void;
}

/** Ends the practice, by being held with a finger, Enter or the space bar until its bar is full. */
export function FinishButton({ disabled, onHeld }: FinishButtonProps) {
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
      class={holding ? 'finish holding' : 'finish'}
      disabled={disabled}
      data-press="finish"
      aria-description="Ends the practice when it is held."
      onPointerDown={({ button }) => button === 0 && begin()}
      onPointerUp={letGo}
      onPointerLeave={letGo}
      onPointerCancel={letGo}
      onContextMenu={(event) => event.preventDefault()}
      onKeyDown={(event) => isHoldKey(event) && !event.repeat && begin()}
      onKeyUp={(event) => isHoldKey(event) && letGo()}
      onBlur={letGo}
    >
      <span class="finish-bar" aria-hidden="true" />
      <span class="finish-words">
        Finish
        <small>{holding ? 'hold on' : 'hold'}</small>
      </span>
    </button>
  );
}
