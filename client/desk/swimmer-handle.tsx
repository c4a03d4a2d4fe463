import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { LaneDrag } from './lane-drag.ts';
import { isMoveKey } from './lane-moves.ts';
import type { LanesModel } from './lanes-model.ts';

interface HandleProps {
  readonly lanes: LanesModel;
  readonly drag: LaneDrag;
  readonly swimmer: Swimmer;
  /** From 1; who leaves first has 1. */
  readonly place: number;
  /** Id of the element that says which keys move. */
  readonly keysId: string;
  readonly isFixed: boolean;
}

/** What a swimmer is taken by: carried with the pointer, or moved with keys while it has the focus. */
export function SwimmerHandle({ lanes, drag, swimmer, place, keysId, isFixed }: HandleProps): JSX.Element {
  const { id, name, lane } = swimmer;
  const button = useRef<HTMLButtonElement>(null);
  // A new place in the page takes the focus away.
  useLayoutEffect(() => {
    const isLost = document.activeElement === null || document.activeElement === document.body;
    if (isLost && lanes.held.peek() === id) button.current?.focus();
  });
  return (
    <button
      ref={button}
      type="button"
      class="handle"
      disabled={isFixed}
      data-move={id}
      aria-label={`Move ${isolated(name)}, ${lane === undefined ? 'without a lane' : `lane ${lane}`}, ${place}`}
      aria-describedby={keysId}
      onFocus={() => {
        lanes.held.value = id;
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') drag.cancel();
        if (!isMoveKey(event.key) || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        void lanes.moveByKey(id, event.key);
      }}
      onPointerDown={(event) => {
        if (event.button !== 0 || isFixed) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        drag.begin(id);
      }}
      onPointerMove={({ clientX, clientY }) => drag.over(clientX, clientY)}
      onPointerUp={() => {
        const move = drag.drop();
        if (move) void lanes.move(move);
      }}
      onPointerCancel={drag.cancel}
    >
      {place}
    </button>
  );
}
