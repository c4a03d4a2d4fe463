import type { Board } from '../../shared-types/board/board.ts';
import type { WallSetUp } from '../../shared-types/wire/walls.ts';
import { type Box, capToFit, figures, type Rect, words } from './boxes.ts';
import type { Screen } from './legibility.ts';
import { clipped, emOf, figuresWidth } from './type-metrics.ts';
import { clockText } from './words.ts';

/** Its number over its name on a light ground, and the clock small, for those who are waiting for it. */
export function identityBoxes(rect: Rect, board: Board, screen: Screen, { number, settings }: WallSetUp): Box[] {
  const pad = Math.min(rect.width, rect.height) * 0.06;
  const inner: Rect = {
    x: rect.x + pad,
    y: rect.y + pad,
    width: rect.width - pad * 2,
    height: rect.height - pad * 2,
  };
  const small = inner.height * 0.1;
  const name = settings?.name ?? '';
  const nameCap = Math.max(inner.height * 0.06, capToFit(name, inner.height * 0.16, inner.width));
  const numberCap = capToFit(String(number), inner.height * 0.46, inner.width);
  return [
    { kind: 'panel', id: 'identity', ...rect, radius: pad, colour: 'leave' },
    words(screen, {
      id: 'identity.word',
      role: 'message',
      text: 'wall',
      cap: small,
      x: inner.x,
      y: inner.y,
      colour: 'ink',
    }),
    figures(screen, {
      id: 'identity.clock',
      role: 'clock',
      text: clockText(board.pastMinuteMs),
      cap: small,
      x: inner.x + inner.width - figuresWidth(':00') * emOf(small),
      y: inner.y,
      colour: 'ink',
    }),
    words(screen, {
      id: 'identity.number',
      role: 'message',
      text: String(number),
      cap: numberCap,
      x: inner.x + inner.width / 2,
      y: inner.y + small * 1.6,
      align: 'centre',
      colour: 'ink',
    }),
    ...(name === ''
      ? []
      : [
          words(screen, {
            id: 'identity.name',
            role: 'message',
            text: clipped(name, inner.width, nameCap),
            cap: nameCap,
            x: inner.x + inner.width / 2,
            y: inner.y + inner.height - nameCap * 1.35,
            align: 'centre',
            colour: 'ink',
          }),
        ]),
  ];
}
