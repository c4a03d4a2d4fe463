import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { Message } from '../../shared-types/message.ts';
import type { Preview, SendOffOption } from '../../shared-types/wire/desk.ts';
import type { DeskServer } from './desk-server.ts';
import { createNewest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';

/** How long the typing has to pause before the server is asked, ms. */
const PAUSE_MS = 150;

/** A sheet is shown until a newer text has one, so that a half-written line does not blank the page. */
export interface ShownSheet {
  readonly preview: Preview;
  /** True: this is not the sheet of the text as it stands: that has errors, or the server did not answer. */
  readonly fromBefore: boolean;
}

export interface PreviewModel {
  readonly messages: ReadonlySignal<readonly Message[]>;
  readonly shown: ReadonlySignal<ShownSheet | null>;
  /** Whether the text as it stands makes a sheet; null while that is not known. */
  readonly makesSheet: ReadonlySignal<boolean | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** The text is now this. */
  follow(text: string): void;
  /** Another practice is open: what was shown is not about it. */
  startOver(text: string): void;
  /** The send-offs that the sets of a text could have; none when the server does not say. */
  sendOffsOf(text: string): Promise<readonly SendOffOption[]>;
  /** The squad or the pool has changed. */
  refresh(): void;
}

/** `later` runs a function after some milliseconds and returns what calls it off. */
export type Later = (run: () => void, delayMs: number) => () => void;

export function createPreview(server: Pick<DeskServer, 'preview'>, later: Later): PreviewModel {
  const messages = signal<readonly Message[]>([]);
  const shown = signal<ShownSheet | null>(null);
  const makesSheet = signal<boolean | null>(null);
  const problem = signal<Problem | null>(null);
  let current = '';
  const newest = createNewest();
  let callOff = (): void => {};

  const showNothing = (): void =>
    batch(() => {
      messages.value = [];
      shown.value = null;
      makesSheet.value = null;
      problem.value = null;
    });

  const ask = (): Promise<void> =>
    newest.take(server.preview(current), (answer) => {
      problem.value = answer.ok ? null : problemOf(answer);
      const preview = answer.ok ? answer.value : null;
      if (preview) messages.value = preview.messages;
      makesSheet.value = preview && preview.sheet !== null;
      if (preview?.sheet) shown.value = { preview, fromBefore: false };
      else if (shown.value) shown.value = { ...shown.value, fromBefore: true };
    });

  function plan(delayMs: number): void {
    callOff();
    // An answer still on its way is about an older text.
    newest.drop();
    if (current.trim() === '') showNothing();
    else callOff = later(() => void ask(), delayMs);
  }

  return {
    messages,
    shown,
    makesSheet,
    problem,
    follow: (text) => {
      if (text === current) return;
      current = text;
      makesSheet.value = null;
      plan(PAUSE_MS);
    },
    startOver: (text) => {
      current = text;
      showNothing();
      plan(0);
    },
    sendOffsOf: async (text) => {
      const answer = await server.preview(text);
      return answer.ok ? answer.value.sendOffs : [];
    },
    // The same text most likely still makes a sheet: a button must not go off under the finger for this.
    refresh: () => plan(0),
  };
}
