import { batch, type ReadonlySignal, signal } from '@preact/signals';
import { ifAllowed } from './drafts.ts';
import { isStroke, type Pressed } from './key-strokes.ts';
import { type DeskKey, isKey, LETTER_KEYS, type LetterKey, PRACTICE_KEYS } from './keys.ts';

/** What the keys that act anywhere do. */
export type KeyActs = Readonly<Record<LetterKey, () => void>> & {
  /** @returns false where there is nothing that could be saved: then the key is the browser's */
  save(): boolean;
};

export interface KeysModel {
  /** Whether the list of keys is open. */
  readonly isOpen: ReadonlySignal<boolean>;
  /** Whether letters act. */
  readonly hasLetters: ReadonlySignal<boolean>;
  /** What was pressed first, and what may follow; null: nothing. */
  readonly begun: ReadonlySignal<Begun | null>;
  show(isOpen: boolean): void;
  useLetters(isOn: boolean): void;
  /**
   * @param isWriting the focus is where letters are written
   * @returns whether the key has done something
   */
  press(pressed: Pressed, isWriting: boolean, acts: KeyActs): boolean;
  /** Nothing was begun. */
  drop(): void;
}

interface Begun {
  readonly key: string;
  readonly next: readonly { readonly key: string; readonly does: string }[];
}

const LETTERS_KEY = 'farwall.desk.letter-keys';
/** Pressed to get at another key. */
const MODIFIERS: ReadonlySet<string> = new Set(['Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock']);

interface Way {
  readonly name: LetterKey;
  readonly keys: readonly string[];
  readonly does: string;
}

const waysOfLetters = (Object.keys(LETTER_KEYS) as LetterKey[]).flatMap((name): Way[] => {
  const { ways, does }: DeskKey = LETTER_KEYS[name];
  return ways.map((way) => ({ name, keys: way.split(' '), does }));
});

/** @param storage where it is kept that letters are switched off; null: only as long as the page lasts */
export function createKeys(storage: Pick<Storage, 'getItem' | 'setItem'> | null, isMac: boolean): KeysModel {
  const isOpen = signal(false);
  const hasLetters = signal(ifAllowed(() => storage?.getItem(LETTERS_KEY), null) !== 'off');
  const begun = signal<Begun | null>(null);

  const following = (first: string | null): readonly Way[] =>
    waysOfLetters.filter(({ keys }) => (first === null ? true : keys.length > 1 && keys[0] === first));

  /** @returns whether this key goes on with what was begun, begins something, or does something at once */
  function pressLetter(pressed: Pressed, acts: KeyActs): boolean {
    const first = begun.peek()?.key ?? null;
    begun.value = null;
    const place = first === null ? 0 : 1;
    const meant = following(first).filter(({ keys }) => isStroke(keys[place] ?? '', pressed, isMac));
    const done = meant.find(({ keys }) => keys.length === place + 1);
    if (done) acts[done.name]();
    else if (meant[0]) begin(meant[0].keys[0] ?? '');
    else return first !== null && pressLetter(pressed, acts);
    return true;
  }

  function begin(key: string): void {
    begun.value = { key, next: following(key).map(({ keys, does }) => ({ key: keys[1] ?? '', does })) };
  }

  return {
    isOpen,
    hasLetters,
    begun,
    show: (isShown) => {
      isOpen.value = isShown;
    },
    useLetters: (isOn) => {
      batch(() => {
        hasLetters.value = isOn;
        begun.value = null;
      });
      ifAllowed(() => storage?.setItem(LETTERS_KEY, isOn ? 'on' : 'off'), undefined);
    },
    press: (pressed, isWriting, acts) => {
      if (MODIFIERS.has(pressed.key)) return false;
      if (isKey(PRACTICE_KEYS.save, pressed, isMac)) return acts.save();
      if (!isWriting && hasLetters.peek()) return pressLetter(pressed, acts);
      begun.value = null;
      return false;
    },
    drop: () => {
      begun.value = null;
    },
  };
}
