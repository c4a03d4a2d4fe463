import { useSignalEffect } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Desk } from './desk.ts';
import { createEditor, type TextEditor } from './text-editor.ts';

/**
 * The practice's text. The editor lives in a shadow root: only there does it put its styles into style sheet objects,
 * which a content security policy of `style-src 'self'` allows; in the page itself it would write style elements.
 */
export function Editor({ desk }: { desk: Desk }): JSX.Element {
  const host = useRef<HTMLDivElement>(null);
  const editor = useRef<TextEditor | null>(null);
  const shownId = useRef<string | null>(null);
  const { manuscript, preview } = desk;

  useEffect(() => {
    if (!host.current) return;
    const made = createEditor(host.current.attachShadow({ mode: 'open' }), {
      onText: manuscript.write,
      sendOffsOn: async (text, line) => (await preview.sendOffsOf(text)).filter((option) => option.line === line),
    });
    editor.current = made;
    made.open(manuscript.text.peek());
    shownId.current = manuscript.open.peek()?.id ?? null;
    made.mark(preview.messages.peek());
    return () => made.close();
  }, [manuscript, preview]);

  useSignalEffect(() => {
    const id = manuscript.open.value?.id ?? null;
    const text = manuscript.text.value;
    if (id === shownId.current) editor.current?.change(text);
    else editor.current?.open(text);
    shownId.current = id;
  });
  useSignalEffect(() => editor.current?.mark(preview.messages.value));
  useSignalEffect(() => {
    if (desk.goTo.value) editor.current?.goTo(desk.goTo.value);
  });

  return <div ref={host} class="editor" data-editor />;
}
