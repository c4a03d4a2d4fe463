import { describe, expect, it } from 'vitest';
import { fieldsOf, POOL_FORM, poolFrom } from '../../client/desk/pool-fields.ts';
import { DEFAULT_POOL, type Pool, poolSchema } from '../../shared-types/pool.ts';

const other: Pool = {
  course: 'LCM',
  lanes: 8,
  apartMs: 10_000,
  easyShare: 0.7,
  percent: 'time',
  pace: 'without-dive',
  prefer: 'best',
  bookedMs: 90 * 60_000,
};

describe('the form of the pool', () => {
  it('has every setting of the pool, and gives back what it was given', () => {
    for (const pool of [DEFAULT_POOL, other]) expect(poolFrom(fieldsOf(pool), DEFAULT_POOL)).toEqual(pool);
    expect(POOL_FORM).toHaveLength(Object.keys(poolSchema.shape).length);
  });

  it('takes an empty booking as none', () => {
    expect(poolFrom({ ...fieldsOf(other), booked: ' ' }, other)).not.toHaveProperty('bookedMs');
  });

  it.each([
    [{ lanes: '13' }, '“13” lanes cannot be used.'],
    [{ lanes: '' }, '“” lanes cannot be used.'],
    [{ apart: 'five' }, '“five” is not a time.'],
    [{ booked: '0' }, '“0” minutes cannot be booked.'],
    [{ booked: '90.5' }, '“90.5” minutes cannot be booked.'],
    [{ easy: '20' }, '“20” % is not an easy speed.'],
  ])('says what cannot be read: %o', (fields, message) => {
    expect(poolFrom({ ...fieldsOf(DEFAULT_POOL), ...fields }, DEFAULT_POOL)).toMatchObject({ message });
  });
});
