import { afterEach, expect, test, vi } from 'vitest';
import { LastSaid } from '../../server/web/last-said.ts';

afterEach(() => {
  vi.useRealTimers();
});

test('what is said again and again is said at once, then the last of it five times a second', () => {
  vi.useFakeTimers();
  const lastSaid = new LastSaid();
  const heard: string[] = [];
  for (let nth = 0; nth < 100; nth += 1) {
    lastSaid.say('screens', () => heard.push(`screens ${nth}`));
    lastSaid.say('walls', () => heard.push(`walls ${nth}`));
    vi.advanceTimersByTime(10);
  }
  vi.advanceTimersByTime(1000);
  const screens = heard.filter((said) => said.startsWith('screens'));
  expect(screens[0]).toBe('screens 0');
  expect(screens.at(-1)).toBe('screens 99');
  expect(screens.length).toBe(6);
  expect(heard.length).toBe(12);
});

test('what is said seldom is said each time', () => {
  vi.useFakeTimers();
  const lastSaid = new LastSaid();
  const heard: number[] = [];
  for (let nth = 0; nth < 3; nth += 1) {
    lastSaid.say('screens', () => heard.push(nth));
    vi.advanceTimersByTime(1000);
  }
  lastSaid.say('screens', () => heard.push(3));
  lastSaid.say('screens', () => heard.push(4));
  lastSaid.end();
  vi.advanceTimersByTime(1000);
  expect(heard).toEqual([0, 1, 2, 3]);
});
