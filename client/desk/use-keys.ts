import { useEffect, useRef } from 'preact/hooks';
import type { AreaName } from './address.ts';
import type { Desk } from './desk.ts';
import type { KeyActs } from './keys-model.ts';

/** Fields in which no letters are written. */
const WITHOUT_LETTERS: ReadonlySet<string> = new Set(['checkbox', 'radio', 'button', 'submit', 'reset', 'file']);

/** Whether letters are written, or chosen by, where a key was pressed. */
function isWriting(target: EventTarget | undefined): boolean {
  if (target instanceof HTMLInputElement) return !WITHOUT_LETTERS.has(target.type);
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return target instanceof HTMLElement && target.isContentEditable;
}

/** @returns what goes to an area and does something once it is shown */
function useWay(here: AreaName): (to: AreaName, then: () => void) => void {
  const waiting = useRef<(() => void) | null>(null);
  useEffect(() => {
    waiting.current?.();
    waiting.current = null;
  }, [here]);
  return (to, then) => {
    if (to === here) return then();
    waiting.current = then;
    location.hash = `#${to}`;
  };
}

/** So that Tab goes on from there. */
const focusOn = (selector: string) => (): void => document.querySelector<HTMLElement>(selector)?.focus();

function actsOf(desk: Desk, here: AreaName, go: (to: AreaName, then: () => void) => void): KeyActs {
  const goTo = (area: AreaName) => (): void => go(area, focusOn('main:not([hidden])'));
  return {
    keys: () => desk.keys.show(true),
    practice: goTo('practice'),
    plan: goTo('plan'),
    squad: goTo('squad'),
    today: goTo('today'),
    results: goTo('results'),
    find: () => go('practice', focusOn('[data-find="text"]')),
    new: () => go('practice', desk.writeNew),
    save: () => {
      if (here !== 'practice') return false;
      if (desk.manuscript.changed.peek()) void desk.manuscript.save();
      return true;
    },
  };
}

/** Has the keys that act anywhere act, unless a dialog is open or something else has taken them. */
export function useKeys(desk: Desk, here: AreaName): void {
  const go = useWay(here);
  const acts = useRef<KeyActs | null>(null);
  acts.current = actsOf(desk, here, go);
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing || document.querySelector('dialog[open]') || !acts.current)
        return;
      if (desk.keys.press(event, isWriting(event.composedPath()[0]), acts.current)) event.preventDefault();
    };
    document.addEventListener('keydown', press);
    document.addEventListener('pointerdown', desk.keys.drop);
    return () => {
      document.removeEventListener('keydown', press);
      document.removeEventListener('pointerdown', desk.keys.drop);
    };
  }, [desk]);
}
