import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pack } from '../../client/wall/packing.ts';

const MOST = 4096;

const anySizes = fc.array(
  fc.record({ width: fc.integer({ min: 1, max: 5000 }), height: fc.integer({ min: 1, max: 900 }) }),
  { maxLength: 80 },
);

it('every picture lies on one canvas, beside the others and within it; canvases are no larger than allowed', () => {
  fc.assert(
    fc.property(anySizes, (sizes) => {
      const canvases = pack(sizes, MOST);
      expect(canvases.flatMap(({ spots }) => [...spots.keys()]).toSorted((a, b) => a - b)).toEqual([...sizes.keys()]);
      const widest = Math.max(MOST, ...sizes.map(({ width }) => width));
      for (const { width, height, spots } of canvases) {
        expect(width).toBeLessThanOrEqual(widest);
        expect(height).toBeLessThanOrEqual(MOST);
        const placed = [...spots].map(([index, spot]) => ({ width: 0, height: 0, ...sizes[index], ...spot }));
        for (const [place, one] of placed.entries()) {
          expect(one.x + one.width).toBeLessThanOrEqual(width);
          expect(one.y + one.height).toBeLessThanOrEqual(height);
          for (const other of placed.slice(place + 1)) {
            const apart =
              one.x + one.width <= other.x ||
              other.x + other.width <= one.x ||
              one.y + one.height <= other.y ||
              other.y + other.height <= one.y;
            expect([one, other, apart]).toEqual([one, other, true]);
          }
        }
      }
    }),
    { endOnFailure: true, numRuns: 200 },
  );
});
