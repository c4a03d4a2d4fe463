import { type ReadonlySignal, signal } from '@preact/signals';

/** Something the coach has to decide before the page goes on. */
interface Question {
  readonly title: string;
  readonly body: string;
  readonly yes: string;
  readonly no: string;
}

export interface Questions {
  readonly open: ReadonlySignal<Question | null>;
  /** Resolves to false also when the dialog is left with Escape. */
  ask(question: Question): Promise<boolean>;
  answer(yes: boolean): void;
}

export function createQuestions(): Questions {
  const open = signal<Question | null>(null);
  let settle: ((yes: boolean) => void) | null = null;
  return {
    open,
    ask: (question) => {
      settle?.(false);
      open.value = question;
      return new Promise((resolve) => {
        settle = resolve;
      });
    },
    answer: (yes) => {
      open.value = null;
      settle?.(yes);
      settle = null;
    },
  };
}
