import type { JSX } from 'preact';
import { removedWords } from './demo-words.ts';
import type { Desk } from './desk.ts';
import { isOwners } from './for-owners.tsx';
import { ProblemNote } from './problem-note.tsx';

interface Props {
  readonly desk: Desk;
  /** Whether there is any of the demo where this stands. */
  readonly isHere: boolean;
  /** What it is marked as. */
  readonly mark: string;
}

/** Marks the demo and removes it; for the rest of the day it can be brought back at the same place. */
export function DemoLine({ desk, isHere, mark }: Props): JSX.Element | null {
  const { demo } = desk;
  const removed = demo.removed.value;
  if (!isHere && !removed) return null;
  const [action, label] = isHere
    ? (['remove', 'Remove the demo'] as const)
    : (['bring-back', 'Bring the demo back'] as const);
  return (
    <div class={isHere ? 'demo-line' : 'demo-line removed'}>
      <span class={isHere ? 'badge' : ''} role="status">
        {isHere || !removed ? mark : removedWords(removed)}
      </span>
      {/* The same button for both, so that the focus stays with it. */}
      {isOwners(desk) && (
        <button
          type="button"
          class="plain"
          data-action={`${action}-demo`}
          onClick={() => void (isHere ? demo.remove() : demo.bringBack())}
        >
          {label}
        </button>
      )}
      {demo.note.value && <p class="quiet">{demo.note.value}</p>}
      <ProblemNote problem={demo.problem.value} />
    </div>
  );
}
