import { ROLES, type Role } from '../../shared-types/wire/protocol.ts';

/** What a browser says of its machine, in the order in which it counts: a television may say Linux as well. */
const MACHINES: readonly (readonly [RegExp, string])[] = [
  [/\bTV\b|SmartTV|Tizen|Web0S|BRAVIA/i, 'TV'],
  [/iPad/, 'iPad'],
  [/iPhone/, 'iPhone'],
  [/Android(?!.*Mobile)/, 'Android tablet'],
  [/Android/, 'Android phone'],
  [/CrOS/, 'Chromebook'],
  [/Windows/, 'Windows'],
  [/Macintosh/, 'Mac'],
  [/Linux/, 'Linux'],
];

/** An iPad calls itself a Mac, but no Mac has a screen for fingers. */
function machineOf({ userAgent, maxTouchPoints }: Pick<Navigator, 'userAgent' | 'maxTouchPoints'>): string | null {
  const machine = MACHINES.find(([says]) => says.test(userAgent))?.[1] ?? null;
  return machine === 'Mac' && maxTouchPoints > 1 ? 'iPad' : machine;
}

const CALLED: Readonly<Record<Role, string>> = { wall: 'Wall', deck: 'Deck', desk: 'Desk' };

/** A name to begin with for this device: `Deck, iPad`. @param to the page it is to open, if that is known */
export function deviceNameFor(to: string | null, browser: Pick<Navigator, 'userAgent' | 'maxTouchPoints'>): string {
  const role = ROLES.find((each) => to === `/${each}`);
  return [role && CALLED[role], machineOf(browser)].filter(Boolean).join(', ');
}
