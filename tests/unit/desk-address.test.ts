import { expect, test } from 'vitest';
import { placeIn, runAddress, seasonAddress } from '../../client/desk/address.ts';
import { runIdSchema } from '../../shared-types/brand.ts';

const run = runIdSchema.parse('1'.repeat(32));

test('the address says where on the desk somebody is', () => {
  expect(placeIn('#squad')).toEqual({ area: 'squad', swimmer: null });
  expect(placeIn('#results')).toEqual({ area: 'results', page: 'practices', run: null });
  expect(placeIn('#results/weeks')).toEqual({ area: 'results', page: 'weeks' });
  expect(placeIn('#results/season')).toEqual({ area: 'results', page: 'season', signature: null });
});

test('a practice and a set have addresses of their own', () => {
  const signature = 'race pace: 3 × 4 × 50 free, with fins + paddles, 50 % / #1, SCM';
  expect(placeIn(runAddress(run))).toEqual({ area: 'results', page: 'practices', run });
  expect(placeIn(seasonAddress(signature))).toEqual({ area: 'results', page: 'season', signature });
});

test('an address that says nothing known leads to the nearest place that is', () => {
  expect([placeIn(''), placeIn('#elsewhere')]).toEqual([{ area: 'practice' }, { area: 'practice' }]);
  expect(placeIn('#results/practices/last-monday')).toEqual({ area: 'results', page: 'practices', run: null });
  expect(placeIn('#results/season/50%')).toEqual({ area: 'results', page: 'season', signature: null });
});
