import { describe, expect, it } from 'vitest';
import { repTimesOf } from '../../server/results/rep-times.ts';
import { restOf } from '../../server/results/rest.ts';
import type { SwumRun } from '../../server/results/run-index.ts';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { isKnown, type RepTime, repTimeSchema } from '../../shared-types/results.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
const bela = swimmer('Bela Sorn', 1, 'A', [best('200 free', '2:08.00')]);
const cato = swimmer('Cato Lind', 2, 'B', [best('200 free', '2:20.00')]);
const squad = { swimmers: [ada, bela, cato] };

const repsOf = (run: SwumRun, set: number, id: SwimmerId): readonly RepTime[] =>
  repTimesOf(run)[set]?.find((each) => each.swimmer === id)?.reps ?? [];

/** `1: 30.1`, `2: not timed`, with the pass where it is not the first. */
const words = (reps: readonly RepTime[]): string[] =>
  reps.map(({ rep, ms, missing, passes }) => {
    const time = ms === null ? missing : ms / 1000;
    return `${rep}: ${time}${passes > 1 ? ` (pass ${passes})` : ''}`;
  });

/** Rests in seconds, or why there is none. */
const rests = (reps: readonly RepTime[]): (number | string)[] =>
  reps.map(({ restMs }) => (isKnown(restMs) ? restMs / 1000 : restMs.none));

const FIFTIES = 'Main set\n4 x 50 free @ 1:00/1:10 at 200 pace\n';

describe('the times of a set', () => {
  it('are each swimmer’s, rep by rep, with target and send-off', () => {
    const run = new SwumPractice(FIFTIES, squad).finishes(ada.id, '2.0.0', [30, 30.2, 30.4, 31]).at(300);
    const reps = repsOf(run, 0, ada.id);
    expect(words(reps)).toEqual(['1: 30', '2: 30.2', '3: 30.4', '4: 31']);
    expect(reps[1]).toMatchObject({
      lane: 1,
      distance: 50,
      stroke: 'free',
      activity: 'swim',
      start: 'push',
      passes: 1,
    });
    expect(reps[1]).toMatchObject({ cycleMs: 60_000, target: { ms: 30_000, estimated: false } });
    expect((reps[2]?.leftAt ?? 0) - (reps[1]?.leftAt ?? 0)).toBe(60_000);
    for (const rep of reps) expect(repTimeSchema.parse(rep)).toEqual(rep);
    expect(repTimesOf(run)[0]?.map((each) => each.swimmer)).toEqual([ada.id, bela.id, cato.id]);
  });

  it('list what is missing: not timed, and not swum yet', () => {
    // Ada leaves at 5, 65, 125; at 130 s the fourth is to come.
    const run = new SwumPractice(FIFTIES, squad).finishes(ada.id, '2.0.0', [30, null]).at(130);
    expect(words(repsOf(run, 0, ada.id))).toEqual(['1: 30', '2: not timed', '3: not timed', '4: not swum']);
  });

  it('count neither a mark that was taken back nor the second of the same touch', () => {
    const run = new SwumPractice(FIFTIES, squad)
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 20, isVoid: true })
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 30 })
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 30.5 })
      .take({ swimmer: ada.id, step: '2.0.0.2', seconds: 20, isVoid: true })
      .at(300);
    const backwards = { ...run, marks: [...run.marks].reverse() };
    for (const read of [run, backwards]) {
      expect(words(repsOf(read, 0, ada.id)).slice(0, 2)).toEqual(['1: 30', '2: not timed']);
    }
  });

  it('of a rep that was repeated are those of the last pass', () => {
    // Back at 20 s: the first rep leaves again.
    const practice = new SwumPractice(FIFTIES, squad).press({ kind: 'back' }, 20);
    practice.take({ swimmer: ada.id, step: '2.0.0.1', seconds: 29 });
    expect(words(repsOf(practice.at(200), 0, ada.id))[0]).toBe('1: not timed (pass 2)');
    practice.take({ swimmer: ada.id, step: '2.0.0.1', seconds: 31, pass: 2 });
    expect(words(repsOf(practice.at(200), 0, ada.id))[0]).toBe('1: 31 (pass 2)');
  });

  it('keep splits apart from finishes and say where they were taken', () => {
    const run = new SwumPractice('Main set\n2 x 100 free @ 2:00 at 200 pace\n', squad)
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 30, distance: 50 })
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 8, distance: 15 })
      .take({ swimmer: ada.id, step: '2.0.0.1', seconds: 61 })
      .at(300);
    expect(repsOf(run, 0, ada.id)[0]).toMatchObject({
      ms: 61_000,
      splits: [
        { distance: 15, ms: 8000, takenAt: 'mid-pool' },
        { distance: 50, ms: 30_000, takenAt: 'turn' },
      ],
    });
  });

  it('of kick, pull and swim in one round are apart', () => {
    const text = 'Main set\n2 x (2 x 50 free kick @ 1:30 + 2 x 50 free pull @ 1:10 + 1 x 50 free @ 1:00)\n';
    const run = new SwumPractice(text, squad)
      .finishes(ada.id, '2.0.1', [50, 51])
      .finishes(ada.id, '2b.0.1', [35])
      .finishes(ada.id, '2c.0.2', [31])
      .at(900);
    const [kick, pull, swim] = [0, 1, 2].map((set) => repsOf(run, set, ada.id));
    expect(words(kick ?? [])).toEqual(['1: 50', '2: 51', '3: not timed', '4: not timed']);
    expect(words(pull ?? [])).toEqual(['1: 35', '2: not timed', '3: not timed', '4: not timed']);
    expect(words(swim ?? [])).toEqual(['1: not timed', '2: 31']);
    expect([kick, pull, swim].map((reps) => reps?.[0]?.activity)).toEqual(['kick', 'pull', 'swim']);
    expect(swim?.map(({ round }) => round)).toEqual([1, 2]);
  });

  it('of reps of so many seconds do not exist, and are not missing', () => {
    const run = new SwumPractice('Main set\n2 x :30 free kick @ 1:00\n', squad).at(200);
    expect(words(repsOf(run, 0, ada.id))).toEqual(['1: nothing to time', '2: nothing to time']);
  });

  it('of heats are each swimmer’s own', () => {
    const run = new SwumPractice('Main set\n2 x 50 free from a dive on go by heat max\n', squad)
      .press({ kind: 'go', gate: 1 }, 60)
      .take({ swimmer: bela.id, step: '2.0.0.1.h2', seconds: 26 })
      .at(100);
    expect(words(repsOf(run, 0, ada.id))).toEqual(['1: not timed', '2: not swum']);
    expect(words(repsOf(run, 0, bela.id))).toEqual(['1: 26', '2: not swum']);
    expect(repsOf(run, 0, bela.id)[0]?.start).toBe('dive');
  });
});

describe('the times of a practice that was changed while it was swum', () => {
  const change = (what: Record<string, unknown>) => ({ kind: 'change' as const, change: what });

  it('follow a swimmer who was moved', () => {
    // Moved at 80 s, in the second rep: the third and fourth in lane 2.
    const run = new SwumPractice(FIFTIES, squad)
      .press(change({ kind: 'move', swimmer: bela.id, lane: 2 }), 80)
      .finishes(bela.id, '2.0.0', [32, 32.1, 32.2, 32.3])
      .at(400);
    const reps = repsOf(run, 0, bela.id);
    expect(words(reps)).toEqual(['1: 32', '2: 32.1', '3: 32.2', '4: 32.3']);
    expect(reps.map(({ lane }) => lane)).toEqual([1, 1, 2, 2]);
  });

  it('leave out the reps that were taken off, and have those that came', () => {
    const run = new SwumPractice(FIFTIES, squad)
      .press(change({ kind: 'adjust', set: '2', scope: { kind: 'all' }, count: 5 }), 30)
      .press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, count: 2 }), 40)
      .at(600);
    expect(repsOf(run, 0, ada.id)).toHaveLength(5);
    expect(repsOf(run, 0, cato.id)).toHaveLength(2);
  });

  it('have the rep that was begun in a version that was undone', () => {
    // A fifth rep, begun at 245 s; undone at 250: the fifth was swum all the same.
    const run = new SwumPractice(FIFTIES, squad)
      .press(change({ kind: 'adjust', set: '2', scope: { kind: 'all' }, count: 5 }), 200)
      .press({ kind: 'undo' }, 250)
      .take({ swimmer: ada.id, step: '2.0.0.5', seconds: 30 })
      .at(400);
    expect(words(repsOf(run, 0, ada.id))[4]).toBe('5: 30');
    expect(repsOf(run, 0, cato.id)).toHaveLength(4);
  });
});

describe('the rest on the wall', () => {
  it('is from the touch to the swimmer’s own next send-off; none after the last rep or where no time was taken', () => {
    const run = new SwumPractice(FIFTIES, squad).finishes(bela.id, '2.0.0', [32, null, 34, 33]).at(400);
    const reps = repsOf(run, 0, bela.id);
    expect(rests(reps)).toEqual([28, 'no time for it', 26, 'no send-off after it']);
    expect(restOf(reps)).toEqual({ count: 2, meanMs: 27_000 });
  });

  it('is below nought for who came in after the send-off', () => {
    const run = new SwumPractice(FIFTIES, squad).finishes(ada.id, '2.0.0', [61.5]).at(400);
    expect(rests(repsOf(run, 0, ada.id))[0]).toBe(-1.5);
  });

  it('follows what really happened: held for half a minute it is half a minute more', () => {
    const run = new SwumPractice(FIFTIES, squad)
      .press({ kind: 'hold' }, 50)
      .press({ kind: 'resume', when: 'now' }, 80)
      .finishes(ada.id, '2.0.0', [30])
      .at(400);
    expect(rests(repsOf(run, 0, ada.id))[0]).toBe(60);
  });

  it('between reps released by the coach is known once both are', () => {
    // The start releases the first, at 5 s; the touch is at 31 s, the next go at once at 60 s.
    const practice = new SwumPractice('Main set\n3 x 50 free on go max\n', { swimmers: [ada] });
    practice.take({ swimmer: ada.id, step: '2.0.0.1', seconds: 26 });
    expect(rests(repsOf(practice.at(50), 0, ada.id))[0]).toBe('no send-off after it');
    practice.press({ kind: 'go', gate: 1, when: 'now' }, 60);
    expect(rests(repsOf(practice.at(70), 0, ada.id)).slice(0, 2)).toEqual([29, 'no send-off after it']);
  });

  it('is not the pause between rounds, but the one before a rep of another set is', () => {
    const text = 'Main set\n2 rounds, 2:00 between:\n  2 x 50 free @ 1:00 at 200 pace\n  50 free easy @ 1:10\n';
    const run = new SwumPractice(text, { swimmers: [ada] })
      .finishes(ada.id, '3.0.1', [30, 31])
      .finishes(ada.id, '3.0.2', [32, 33])
      .finishes(ada.id, '4.0.1', [50])
      .at(900);
    expect(rests(repsOf(run, 0, ada.id))).toEqual([30, 29, 28, 'no send-off after it']);
    expect(rests(repsOf(run, 1, ada.id))[0]).toBe('a pause follows');
  });
});

describe('no times at all', () => {
  it('of a practice that was not begun: all reps are not swum', () => {
    const run: SwumRun = { ...new SwumPractice(FIFTIES, squad).at(0), departures: [], marks: [] };
    expect(new Set(repsOf(run, 0, ada.id).map(({ missing }) => missing))).toEqual(new Set(['not swum']));
    expect(restOf(repsOf(run, 0, ada.id))).toEqual({ count: 0, meanMs: { none: 'no times' } });
  });
});
