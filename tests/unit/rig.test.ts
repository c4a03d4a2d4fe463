import { describe, expect, it, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import { setResultsOf } from '../../server/results/set-results.ts';
import { marksOf } from '../../shared-types/marks.ts';
import type { Pool } from '../../shared-types/pool.ts';
import { isKnown, none } from '../../shared-types/results.ts';
import { timedPlacesOf } from '../../shared-types/timed-places.ts';
import { resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { best, pool25, repsOf, sheetOf, swimmer } from '../fixtures/planning.ts';
import { runServerOn } from '../fixtures/running-server.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
const squad = { swimmers: [ada] };
const timedOver20: Pool = { ...pool25, rig: { ratio: 10, timedDistance: 20 } };

const placesOf = (line: string, pool = timedOver20): readonly number[] | undefined => {
  const sheet = sheetOf(line, squad, pool);
  const [rep] = repsOf(sheet, 1);
  return rep && timedPlacesOf(sheet, rep);
};

describe('where a rep on the pulley is timed', () => {
  it('is where the pool says, of longer reps on the pulley only', () => {
    expect(placesOf('8 x 25 free max with pulley 12 kg @ 2:00')).toEqual([20]);
    expect(placesOf('8 x 25 free max with cord @ 2:00')).toEqual([25]);
    expect(placesOf('8 x 25 free max @ 2:00')).toEqual([25]);
    expect(placesOf('8 x 25 free max with pulley 12 kg @ 2:00', pool25)).toEqual([25]);
    const over25 = { ...pool25, rig: { timedDistance: 25 } };
    expect(placesOf('8 x 25 free max with pulley 12 kg @ 2:00', over25)).toEqual([25]);
  });

  it('may be the finish instead, or both, as the deck chooses', () => {
    const sheet = sheetOf('8 x 25 free max with pulley 12 kg @ 2:00', squad, timedOver20);
    const [rep] = repsOf(sheet, 1);
    expect(rep && timedPlacesOf(sheet, rep, 'finish')).toEqual([25]);
    expect(rep && timedPlacesOf(sheet, rep, 'both')).toEqual([20, 25]);
  });
});

describe('the power of a set that was timed so', () => {
  const practice = new SwumPractice('Power\n2 x 25 free max with pulley 12 kg @ 2:00\n', squad, timedOver20);
  practice.take({ swimmer: ada.id, step: '2.0.0.1', distance: 20, seconds: 10 });
  practice.take({ swimmer: ada.id, step: '2.0.0.2', seconds: 13 });
  const powerIn = (stackHeightM?: number) => {
    const [set] = setResultsOf(practice.at(600), { power: { ratio: 10, stackHeightM } });
    const power = set?.swimmers[0]?.power;
    if (!power || !isKnown(power)) throw new Error('no power');
    return power;
  };

  it('12 kg, 10:1, 20 m in 10 s: 23.5 W (computed from P = m·g·(d/r)/t); a finish alone says nothing', () => {
    expect(powerIn().reps[0]?.watts).toBeCloseTo(23.536, 3);
    expect(powerIn().reps[1]?.watts).toEqual(none('no time for it'));
  });

  it('is none when the stack would have been at its upper stop', () => {
    expect(powerIn(1.9).reps[0]?.watts).toEqual(none('stack too low for the distance'));
    expect(powerIn(2).reps[0]?.watts).toBeCloseTo(23.536, 3);
  });
});

test('a deck takes the times there that make the power of everybody', async () => {
  const server = await runServerOn(new SteppedClock(Date.UTC(2027, 0, 15, 12)));
  const { url, machine: clock } = server;
  const rehearsed = {
    practiceText: 'Raw: power\n6 x 25 free max with pulley 12 kg @ 2:00\n',
    squadCsv: 'swimmer,lane,event,course,time\nAda Vance,1,100 free,SCM,58.00\nCato Lind,1,100 free,SCM,1:02.00\n',
    pool: timedOver20,
  };
  const { finished, followed, tally } = await (
    await Rehearsal.prepared({ server: paired(url), clock, newId: randomId, seed: 7 }, rehearsed)
  ).run();
  expect(finished).toBe(true);
  expect(tally.unexpected).toBe(0);
  expect(marksOf(followed.book).map(({ distance, state }) => `${distance} ${state}`)).toEqual(
    Array.from({ length: tally.marksStored }, () => '20 counts'),
  );
  const { body } = await server.ask('GET', `/api/runs/${followed.run.id}/results?role=desk`);
  const { sets } = resultsAnswerSchema.parse(body);
  for (const { power } of sets[0]?.swimmers ?? []) expect(isKnown(power) && isKnown(power.bestWatts)).toBe(true);
});
