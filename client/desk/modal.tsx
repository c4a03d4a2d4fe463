import type { ComponentChildren, JSX } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';

interface ModalProps {
  readonly title: string;
  readonly wide?: boolean;
  /** Left with Escape. */
  readonly onLeave: () => void;
  readonly children: ComponentChildren;
}

/** The browser's own dialog: it keeps the focus inside and gives it back. */
export function Modal({ title, wide = false, onLeave, children }: ModalProps): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useLayoutEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      class={wide ? 'modal wide' : 'modal'}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onLeave();
      }}
    >
      <h2 id={titleId}>{title}</h2>
      {children}
    </dialog>
  );
}
