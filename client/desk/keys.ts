import type { AreaName } from './address.ts';
import { isStroke, type Pressed, strokeWords } from './key-strokes.ts';

/**
 * All keys of the desk. What acts on a key asks this table, and the list of keys is written from it, so that the list can
 * tell nothing that is not so. How keys are written is in `key-strokes.ts`.
 */
export interface DeskKey {
  /** Any of them does it. */
  readonly ways: readonly string[];
  /** On a Mac, where it is done otherwise. */
  readonly onMac?: readonly string[];
  readonly does: string;
}

type Table<Name extends string> = Readonly<Record<Name, DeskKey>>;

/**
 * They begin with a letter or sign and act only while no text is being written. They can be switched off (WCAG 2.2, 2.1.4).
 * Two keys one after the other, for screen readers, browsers and slips of a finger all take single letters.
 */
export const LETTER_KEYS = {
  keys: { ways: ['?'], does: 'This list' },
  practice: { ways: ['g p'], does: 'Practice' },
  plan: { ways: ['g w'], does: 'Week' },
  squad: { ways: ['g s'], does: 'Squad' },
  today: { ways: ['g t'], does: 'Today' },
  results: { ways: ['g r'], does: 'Results' },
  find: { ways: ['g f'], does: 'Find a practice' },
  new: { ways: ['g n'], does: 'Write a new practice' },
} as const satisfies Table<'keys' | 'find' | 'new' | AreaName>;
export type LetterKey = keyof typeof LETTER_KEYS;

/** They act in every field of the practice page. */
export const PRACTICE_KEYS = { save: { ways: ['Mod-s'], does: 'Save the practice' } } as const satisfies Table<'save'>;

export const TEXT_KEYS = {
  undo: { ways: ['Mod-z'], does: 'Undo' },
  redo: { ways: ['Mod-y'], onMac: ['Mod-Shift-z'], does: 'Redo' },
  nextMessage: { ways: ['F8'], does: 'To the next message' },
  previousMessage: { ways: ['Shift-F8'], does: 'To the message before' },
  offer: { ways: ['Ctrl-Space'], onMac: ['Alt-i'], does: 'Offer words, or send-offs after @' },
  take: { ways: ['Tab'], does: 'Take an offer; without one, indent' },
  outdent: { ways: ['Shift-Tab'], does: 'Indent less' },
  chooseNext: { ways: ['ArrowDown'], does: 'Choose the next offer' },
  choosePrevious: { ways: ['ArrowUp'], does: 'Choose the offer before' },
  takeChosen: { ways: ['Enter'], does: 'Take the chosen offer, or a new line' },
  refuse: { ways: ['Escape'], does: 'Take none of the offers' },
  leave: { ways: ['Escape Tab'], does: 'Out of the text' },
} as const satisfies Table<string>;

/** While the number of a swimmer has the focus. */
export const MOVE_KEYS = {
  order: { ways: ['ArrowUp', 'ArrowDown'], does: 'Leave earlier, or later' },
  lane: { ways: ['ArrowLeft', 'ArrowRight'], does: 'To the lane beside' },
  toLane: { ways: ['1', '2', '3', '4', '5', '6', '7', '8', '9'], does: 'To that lane' },
  toTen: { ways: ['0'], does: 'To lane 10' },
  out: { ways: ['Delete', 'Backspace'], does: 'Out of the lanes' },
} as const satisfies Table<string>;

/** In the table of loads that were really pulled. */
export const LOAD_KEYS = {
  down: { ways: ['Enter'], does: 'Down, and on at the top of the next rep' },
  after: { ways: ['Alt-ArrowRight'], does: 'The same for the reps after' },
  below: { ways: ['Alt-ArrowDown'], does: 'The same for the swimmers below' },
} as const satisfies Table<string>;

export const MENU_KEYS = {
  close: { ways: ['Escape'], does: 'Close the menu “More”' },
} as const satisfies Table<'close'>;

/** What browsers do by themselves with what is on the desk; tests press them all the same. */
export const BROWSER_KEYS = {
  next: { ways: ['Tab', 'Shift-Tab'], does: 'To the next button or field, or back' },
  press: { ways: ['Enter', 'Space'], does: 'Press a button; Space ticks' },
  leave: { ways: ['Escape'], does: 'Leave a dialog, and nothing is done' },
  scroll: { ways: ['ArrowLeft', 'ArrowRight'], does: 'Scroll a wide table that has the focus' },
  print: { ways: ['Mod-p'], does: 'Print the practice or the results shown' },
} as const satisfies Table<string>;

interface KeyGroup {
  readonly title: string;
  /** When they act. */
  readonly when?: string;
  readonly keys: readonly DeskKey[];
}

/** As they are listed. */
export const KEY_GROUPS: readonly KeyGroup[] = [
  { title: 'Go to', when: 'while no text is being written', keys: Object.values(LETTER_KEYS) },
  { title: 'Everywhere', keys: [...Object.values(BROWSER_KEYS), ...Object.values(MENU_KEYS)] },
  { title: 'Results', when: 'in the table of loads', keys: Object.values(LOAD_KEYS) },
  {
    title: 'Practice',
    when: 'in its text; saving also beside it',
    keys: [...Object.values(PRACTICE_KEYS), ...Object.values(TEXT_KEYS)],
  },
  { title: 'Squad', when: 'on the number of a swimmer', keys: Object.values(MOVE_KEYS) },
];

export const waysOf = ({ ways, onMac }: DeskKey, isMac: boolean): readonly string[] => (isMac && onMac) || ways;

export const isKey = (key: DeskKey, pressed: Pressed, isMac: boolean): boolean =>
  waysOf(key, isMac).some((way) => isStroke(way, pressed, isMac));

/** The first way, `Ctrl+S`. */
export const keyWords = (key: DeskKey, isMac: boolean): string => strokeWords(waysOf(key, isMac)[0] ?? '', isMac);

const isFigure = (way: string): boolean => /^\d$/.test(way);

/** A row of figures is said by its ends: `1 … 9`. Each way is the keys that follow one another. */
export function listedWays(key: DeskKey, isMac: boolean): { readonly ways: string[][]; readonly between: string } {
  const ways = waysOf(key, isMac);
  const isRow = ways.length > 2 && ways.every(isFigure);
  const shown = isRow ? [ways[0] ?? '', ways[ways.length - 1] ?? ''] : ways;
  return {
    ways: shown.map((way) => way.split(' ').map((stroke) => strokeWords(stroke, isMac))),
    between: isRow ? 'to' : 'or',
  };
}
