import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Box, TextBox, WallLayout } from '../../client/wall/boxes.ts';
import { layOut, safeArea } from '../../client/wall/lay-out.ts';
import { ANGLES, isFar, type Screen } from '../../client/wall/legibility.ts';
import { emOf, figuresWidth, wordsWidth } from '../../client/wall/type-metrics.ts';
import type { Board } from '../../shared-types/board/board.ts';
import { holds, isText, overlap } from '../fixtures/wall-boxes.ts';
import { anyBoard, anyScreen } from '../unit/wall-layout-boards.ts';

const notices = fc.constantFrom('', 'no connection: going on alone');

/** Only running words may be shortened, and then they say so. */
const MAY_BE_SHORTENED = new Set<TextBox['role']>(['name', 'set', 'detail', 'notice']);

const widthOf = ({ set, text, cap }: TextBox): number =>
  (set === 'figures' ? figuresWidth(text) : wordsWidth(text)) * emOf(cap);

function faultsOf({ boxes, tracks, detail, readableToM }: WallLayout, board: Board, screen: Screen): string[] {
  const texts = boxes.filter(isText);
  const drawn = boxes.filter(({ kind }) => kind !== 'panel');
  const said = (fault: string, ...those: readonly unknown[]): string => `${fault}: ${JSON.stringify(those)}`;
  const inSafeArea = (box: Box | WallLayout['tracks'][number]): boolean => holds(safeArea(screen), box);
  return [
    ...[...boxes, ...tracks].filter((box) => !inSafeArea(box)).map((box) => said('outside', box)),
    ...drawn.flatMap((one, place) =>
      drawn
        .slice(place + 1)
        .filter((other) => overlap(one, other))
        .map((other) => said('overlapping', one, other)),
    ),
    ...tracks.flatMap((track) =>
      texts.filter((text) => overlap(track, text)).map((text) => said('under a disc', track, text)),
    ),
    ...texts.filter((text) => widthOf(text) > text.width + 0.01).map((text) => said('wider than its box', text)),
    ...texts
      .filter(({ text, role }) => text.includes('…') && !MAY_BE_SHORTENED.has(role))
      .map((text) => said('shortened', text)),
    ...texts
      .filter(({ role, arcMinutes }) => arcMinutes < ANGLES[role].least - 1e-4)
      .filter(({ role }) => !isFar(role) || readableToM >= (screen.distanceM ?? 0))
      .map((text) => said('too small, and the wall does not say so', text)),
    // Lanes never page.
    ...(detail === 'clock' ? [] : board.lanes)
      .filter(({ lane }) => !texts.some(({ id, text }) => id === `lane${lane}.lane` && text === String(lane)))
      .map(({ lane }) => said('not on the wall', lane)),
  ];
}

it('no text overlaps another, is cut or is run over by a disc, on any board of any screen', () => {
  fc.assert(
    fc.property(anyBoard, anyScreen, notices, (board, screen, notice) => {
      expect(faultsOf(layOut(board, screen, notice), board, screen)).toEqual([]);
    }),
    { numRuns: 500, endOnFailure: true },
  );
});
