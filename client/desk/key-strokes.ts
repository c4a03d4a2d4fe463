/**
 * Keys as tables write them, which is how the editor's library writes them, too: `Mod-s`, `Shift-F8`, `?`. Mod is Ctrl, on
 * a Mac Command. Keys pressed one after the other have a space between them: `g p`.
 */

/** What of a keyboard event matters. */
export interface Pressed {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/** Of a browser's `navigator.platform`. */
export const isMacPlatform = (platform: string): boolean => /^(Mac|iPhone|iPad)/.test(platform);

export const isMac = (): boolean => isMacPlatform(navigator.platform);

interface Stroke {
  readonly key: string;
  readonly modifiers: readonly string[];
}

function strokeOf(written: string): Stroke {
  const parts = written.split('-');
  return { key: parts[parts.length - 1] || '-', modifiers: parts.slice(0, -1).filter((part) => part !== '') };
}

const nameOf = (key: string): string => (key === ' ' ? 'Space' : key);

/** Whether a key is pressed as it is written. With a character Shift counts only beside other modifiers. */
export function isStroke(written: string, pressed: Pressed, onMac: boolean): boolean {
  const { key, modifiers } = strokeOf(written);
  const has = (modifier: string): boolean => modifiers.includes(modifier);
  const isCharacter = key.length === 1 && modifiers.length === 0;
  return (
    nameOf(pressed.key).toLowerCase() === key.toLowerCase() &&
    pressed.ctrlKey === (has('Ctrl') || (has('Mod') && !onMac)) &&
    pressed.metaKey === (has('Mod') && onMac) &&
    pressed.altKey === has('Alt') &&
    (isCharacter || pressed.shiftKey === has('Shift'))
  );
}

const KEY_WORDS: Readonly<Record<string, string>> = {
  ArrowUp: '↑',
  ArrowDown: '↓',
  ArrowLeft: '←',
  ArrowRight: '→',
  Escape: 'Esc',
  PageUp: 'Page up',
  PageDown: 'Page down',
};
/** In the order in which Macs write them, with what they call them. */
const ON_MAC: Readonly<Record<string, string>> = { Ctrl: 'Control', Alt: 'Option', Shift: 'Shift', Mod: 'Cmd' };

/** As it stands on the keys: `Ctrl+S`, `Shift+F8`, `↑`. A letter alone is small, as it is pressed. */
export function strokeWords(written: string, onMac: boolean): string {
  const { key, modifiers } = strokeOf(written);
  const names = modifiers.map((modifier) => (onMac ? ON_MAC[modifier] : modifier.replace('Mod', 'Ctrl')) ?? modifier);
  const own = KEY_WORDS[key] ?? (names.length > 0 && key.length === 1 ? key.toUpperCase() : key);
  return [...names, own].join('+');
}
