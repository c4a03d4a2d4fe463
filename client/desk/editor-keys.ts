import type { Command, KeyBinding } from '@codemirror/view';
import type { DeskKey } from './keys.ts';

/** Of keys that are pressed one after the other: what comes then is the command's to see to. */
const first = (way: string): string => way.split(' ')[0] ?? way;

/** A key of the table as the editor's library binds it. */
export function bound({ ways, onMac }: DeskKey, run: Command): KeyBinding[] {
  if (!onMac) return ways.map((way) => ({ key: first(way), run }));
  return [
    ...ways.map((way) => ({ win: first(way), linux: first(way), run })),
    ...onMac.map((way) => ({ mac: first(way), run })),
  ];
}
