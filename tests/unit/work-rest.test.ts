import { describe, expect, it } from 'vitest';
import { workRest } from '../../shared-types/work-rest.ts';

describe('work to rest', () => {
  it.each([
    // 40 / 30 = 1.333…; 30 / 90 = 0.333…; 60 / 30 = 2 (by hand).
    [30_000, 40_000, '1:1.3'],
    [90_000, 30_000, '1:0.3'],
    [30_000, 60_000, '1:2.0'],
    // 1.25 is half way: up.
    [40_000, 50_000, '1:1.3'],
    [28_400, 151_600, '1:5.3'],
    [90_000, 1000, '1:0.0'],
  ])('of a swim of %i ms with %i ms of rest is %s', (swim, rest, ratio) => {
    expect(workRest(swim, rest)).toBe(ratio);
  });

  it.each([
    [30_000, 0],
    [30_000, -5000],
    [30_000, null],
    [null, 30_000],
    [0, 30_000],
  ])('is not said of a swim of %s ms with %s ms of rest', (swim, rest) => {
    expect(workRest(swim, rest)).toBeNull();
  });
});
