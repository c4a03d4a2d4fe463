import type { ComponentChildren } from 'preact';
import { PressButton } from './press-button.tsx';

interface StepperProps<T> {
  readonly sets: readonly T[];
  /** Of the one that is shown. */
  readonly place: number;
  readonly onStep: (set: T) => void;
  /** What is said of it. */
  readonly children: ComponentChildren;
}

/** A set between buttons to the sets before and after it. */
export function SetStepper<T>({ sets, place, onStep, children }: StepperProps<T>) {
  const step = (by: -1 | 1, arrow: string, name: string) => {
    const other = sets[place + by];
    return (
      <PressButton
        class="step"
        name={name}
        disabled={!other}
        data={{ 'data-press': 'set', 'data-by': by }}
        onPress={() => other && onStep(other)}
      >
        {arrow}
      </PressButton>
    );
  };
  return (
    <div class="set-stepper">
      {step(-1, '‹', 'The set before')}
      {children}
      {step(1, '›', 'The set after')}
    </div>
  );
}
