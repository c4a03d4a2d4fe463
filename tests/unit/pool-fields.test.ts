import { describe, expect, it } from 'vitest';
import { fieldsOf, POOL_FORM, type PoolFields, poolFrom } from '../../client/desk/pool-fields.ts';
import { DEFAULT_POOL, type Pool, poolSchema } from '../../shared-types/pool.ts';
import { rigSchema } from '../../shared-types/rig.ts';

const other: Pool = {
  course: 'LCM',
  lanes: 8,
  apartMs: 10_000,
  easyShare: 0.7,
  percent: 'time',
  pace: 'without-dive',
  prefer: 'best',
  bookedMs: 90 * 60_000,
  toleranceMsPer50: 250,
  rig: { ratio: 10, stackHeightM: 2.5, timedDistance: 20 },
};

describe('the form of the pool', () => {
  it('has every setting of the pool, and gives back what it was given', () => {
    for (const pool of [DEFAULT_POOL, other]) expect(poolFrom(fieldsOf(pool), DEFAULT_POOL)).toEqual(pool);
    const settings = [...Object.keys(poolSchema.shape), ...Object.keys(rigSchema.shape)].filter(
      (name) => name !== 'rig',
    );
    expect(POOL_FORM).toHaveLength(settings.length);
  });

  it('takes an empty booking as none', () => {
    expect(poolFrom({ ...fieldsOf(other), booked: ' ' }, other)).not.toHaveProperty('bookedMs');
  });

  it('of a pool stored before there was a tolerance shows the usual 0.3 s a 50', () => {
    const { toleranceMsPer50: _, ...before } = DEFAULT_POOL;
    expect(fieldsOf(poolSchema.parse(before)).tolerance).toBe('0.3');
  });

  it('takes a ratio as it is said, decimal commas, and nothing where the pulley is not known', () => {
    const read = (fields: Partial<PoolFields>) => poolFrom({ ...fieldsOf(DEFAULT_POOL), ...fields }, other);
    expect(read({ ratio: '10 : 1', stackHeight: '2,5' })).toMatchObject({ rig: { ratio: 10, stackHeightM: 2.5 } });
    expect(read({ tolerance: '0,25' })).toMatchObject({ toleranceMsPer50: 250 });
    expect(read({})).not.toHaveProperty('rig');
  });

  it.each([
    [{ lanes: '13' }, '“13” lanes cannot be used.'],
    [{ lanes: '' }, '“” lanes cannot be used.'],
    [{ apart: 'five' }, '“five” is not a time.'],
    [{ booked: '0' }, '“0” minutes cannot be booked.'],
    [{ booked: '90.5' }, '“90.5” minutes cannot be booked.'],
    [{ easy: '20' }, '“20” % is not an easy speed.'],
    [{ tolerance: '6' }, '“6” s a 50 cannot be used.'],
    [{ tolerance: '' }, '“” s a 50 cannot be used.'],
    [{ ratio: '1:10' }, '“1:10” is not a pulley’s ratio.'],
    [{ stackHeight: 'high' }, '“high” m is not how far a stack goes up.'],
    [{ timedOver: '0' }, '“0” m is not a distance that is timed.'],
    [
      { ratio: '5', stackHeight: '2.5', timedOver: '20' },
      'Over 20 m at 5 : 1 the stack would go up 4.0 m, and it goes up 2.5 m.',
    ],
  ])('says what cannot be read: %o', (fields, message) => {
    expect(poolFrom({ ...fieldsOf(DEFAULT_POOL), ...fields }, DEFAULT_POOL)).toMatchObject({ message });
  });
});
