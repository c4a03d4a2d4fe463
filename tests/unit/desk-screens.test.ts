import { expect, test } from 'vitest';
import { syncWords } from '../../client/desk/today-words.ts';
import { deviceIdSchema } from '../../shared-types/brand.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';

const screen = (syncBoundMs: number | null): ScreenInfo => ({
  device: deviceIdSchema.parse('1'.repeat(32)),
  role: 'wall',
  syncBoundMs,
  width: 1920,
  height: 1080,
});

test('[SYN5] the desk says of every screen how far its clock may be off, and warns above 50 ms', () => {
  expect(syncWords(screen(null))).toEqual({ words: 'not measured yet', warn: false });
  expect(syncWords(screen(0.2))).toEqual({ words: 'within 1\u00a0ms', warn: false });
  expect(syncWords(screen(50))).toEqual({ words: 'within 50\u00a0ms', warn: false });
  expect(syncWords(screen(79.1))).toEqual({ words: 'only within 80\u00a0ms', warn: true });
});
