import { describe, expect, test } from 'vitest';
import { isMacPlatform, isStroke, type Pressed, strokeWords } from '../../client/desk/key-strokes.ts';
import { KEY_GROUPS, LETTER_KEYS, listedWays, MOVE_KEYS, TEXT_KEYS } from '../../client/desk/keys.ts';
import { createKeys, type KeyActs, type KeysModel } from '../../client/desk/keys-model.ts';
import { isMoveKey, moveByKey } from '../../client/desk/lane-moves.ts';
import { demoSquad } from '../fixtures/planning.ts';

const NO_MODIFIER = { ctrlKey: false, metaKey: false, altKey: false, shiftKey: false };
const pressed = (key: string, more: Partial<Pressed> = {}): Pressed => ({ ...NO_MODIFIER, key, ...more });

function keyboard({ isMac = false, kept = new Map<string, string>() } = {}) {
  const done: string[] = [];
  const storage = {
    getItem: (name: string) => kept.get(name) ?? null,
    setItem: (name: string, value: string) => void kept.set(name, value),
  };
  const keys: KeysModel = createKeys(storage, isMac);
  const act = (name: string) => (): void => void done.push(name);
  const acts: KeyActs = {
    keys: act('keys'),
    practice: act('practice'),
    plan: act('plan'),
    squad: act('squad'),
    today: act('today'),
    results: act('results'),
    find: act('find'),
    new: act('new'),
    save: () => {
      done.push('save');
      return true;
    },
  };
  const press = (key: string, more: Partial<Pressed> = {}, isWriting = false): boolean =>
    keys.press(pressed(key, more), isWriting, acts);
  return { keys, done, press, kept };
}

describe('a key', () => {
  test.for([
    ['Mod-s', pressed('s', { ctrlKey: true }), false, true],
    ['Mod-s', pressed('s', { ctrlKey: true }), true, false],
    ['Mod-s', pressed('s', { metaKey: true }), true, true],
    ['Mod-s', pressed('S', { ctrlKey: true, shiftKey: true }), false, false],
    ['Mod-s', pressed('s'), false, false],
    ['?', pressed('?', { shiftKey: true }), false, true],
    ['?', pressed('?', { ctrlKey: true, shiftKey: true }), false, false],
    // Caps lock.
    ['g', pressed('G'), false, true],
    ['g', pressed('g', { altKey: true }), false, false],
    ['Shift-F8', pressed('F8'), false, false],
    ['Shift-F8', pressed('F8', { shiftKey: true }), false, true],
    ['Space', pressed(' '), false, true],
    ['Alt-ArrowDown', pressed('ArrowDown', { altKey: true }), true, true],
  ] as const)('%s is told from others: %o, on a Mac %s', ([written, event, onMac, is]) => {
    expect(isStroke(written, event, onMac)).toBe(is);
  });

  test.for([
    ['Mod-s', 'Ctrl+S', 'Cmd+S'],
    ['Mod-Shift-z', 'Ctrl+Shift+Z', 'Cmd+Shift+Z'],
    ['Alt-ArrowRight', 'Alt+→', 'Option+→'],
    ['g', 'g', 'g'],
    ['Escape', 'Esc', 'Esc'],
    ['-', '-', '-'],
  ] as const)('%s stands on the keyboard as %s, on a Mac as %s', ([written, elsewhere, onMac]) => {
    expect([strokeWords(written, false), strokeWords(written, true)]).toEqual([elsewhere, onMac]);
  });

  test('of a Mac is known by the platform', () => {
    expect(['MacIntel', 'iPad', 'Win32', 'Linux x86_64'].map(isMacPlatform)).toEqual([true, true, false, false]);
  });
});

describe('keys that act anywhere', () => {
  test('are pressed one after the other, and what may follow is said', () => {
    const { keys, done, press } = keyboard();
    expect(press('g')).toBe(true);
    expect(keys.begun.value?.next.map(({ key }) => key).join('')).toBe('pwstrfn');
    expect([press('s'), press('g'), press('n'), press('?', { shiftKey: true })]).toEqual([true, true, true, true]);
    expect([done, keys.begun.value]).toEqual([['squad', 'new', 'keys'], null]);
  });

  test('do nothing after a key that means nothing, which is then as if pressed alone', () => {
    const { keys, done, press } = keyboard();
    press('g');
    expect([press('x'), press('s')]).toEqual([false, false]);
    press('g');
    press('g');
    press('t');
    press('g');
    press('?', { shiftKey: true });
    press('g');
    keys.drop();
    press('r');
    expect(done).toEqual(['today', 'keys']);
  });

  test('leave alone what is written, what has modifiers, and the pressing of a modifier', () => {
    const { done, press } = keyboard();
    expect([press('g', {}, true), press('p'), press('g', { ctrlKey: true }), press('p')]).toEqual(
      Array.from({ length: 4 }, () => false),
    );
    press('g');
    expect(press('Shift', { shiftKey: true })).toBe(false);
    press('w');
    expect(done).toEqual(['plan']);
  });

  test('are switched off, also for the next time, except those with a modifier', () => {
    const { keys, press, done, kept } = keyboard();
    keys.useLetters(false);
    expect([press('g'), press('?', { shiftKey: true }), press('s', { ctrlKey: true }, true)]).toEqual([
      false,
      false,
      true,
    ]);
    expect(done).toEqual(['save']);
    const again = keyboard({ kept });
    expect([again.keys.hasLetters.value, again.press('g')]).toEqual([false, false]);
    again.keys.useLetters(true);
    expect(keyboard({ kept }).press('g')).toBe(true);
  });

  test('have each something of their own to do, and none begins as another is whole', () => {
    const ways = Object.values(LETTER_KEYS).flatMap((key): readonly string[] => key.ways);
    expect(new Set(ways).size).toBe(ways.length);
    expect(ways.filter((way) => ways.some((other) => other.startsWith(`${way} `)))).toEqual([]);
  });
});

describe('the list of keys', () => {
  test('says each thing once, in words', () => {
    for (const { title, keys } of KEY_GROUPS) {
      const said = keys.map(({ does }) => does);
      expect(new Set(said).size, title).toBe(said.length);
    }
  });

  test('writes a row of figures by its ends, and what follows one another apart', () => {
    expect(listedWays(MOVE_KEYS.toLane, false)).toEqual({ ways: [['1'], ['9']], between: 'to' });
    expect(listedWays(MOVE_KEYS.out, false)).toEqual({ ways: [['Delete'], ['Backspace']], between: 'or' });
    expect(listedWays(LETTER_KEYS.squad, false).ways).toEqual([['g', 's']]);
    expect([false, true].map((isMac) => listedWays(TEXT_KEYS.redo, isMac).ways)).toEqual([
      [['Ctrl+Y']],
      [['Cmd+Shift+Z']],
    ]);
  });

  test('has all keys that move a swimmer, and each of them moves one', () => {
    const { swimmers } = demoSquad();
    const [lanes, ways] = [10, Object.values(MOVE_KEYS).flatMap((key): readonly string[] => key.ways)];
    for (const way of ways) {
      expect(isMoveKey(way), way).toBe(true);
      expect(
        swimmers.some(({ id }) => moveByKey(swimmers, id, way, lanes) !== null),
        way,
      ).toBe(true);
    }
    expect(['Home', 'g', ' ', 'Enter'].filter(isMoveKey)).toEqual([]);
  });
});
