import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { ViewButton } from './view-button.tsx';

interface PanelProps {
  readonly name: string;
  /** Beside the close button. */
  readonly head: ComponentChildren;
  readonly children: ComponentChildren;
  /** On the button that closes it. */
  readonly closeWord?: string;
  readonly onClose: () => void;
}

/** In the place of the lanes, so that what runs the practice stays in reach. Closed by its button and by Escape. */
export function Panel({ name, head, children, closeWord = 'Close', onClose }: PanelProps) {
  const panel = useRef<HTMLElement>(null);
  const close = useRef(onClose);
  close.current = onClose;
  useEffect(() => {
    const before = document.activeElement;
    panel.current?.focus();
    // The lanes, where the opener may be, are shown again only after this panel is gone.
    return () => void setTimeout(() => before instanceof HTMLElement && before.focus());
  }, []);
  useEffect(() => {
    const onKey = ({ key }: KeyboardEvent): void => {
      if (key === 'Escape') close.current();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
  return (
    <section class="panel" aria-label={name} ref={panel} tabIndex={-1} data-panel>
      <div class="panel-head">
        {head}
        <ViewButton class="panel-close" data={{ 'data-press': 'close' }} onPress={onClose}>
          {closeWord}
        </ViewButton>
      </div>
      {children}
    </section>
  );
}
