import { describe, expect, it } from 'vitest';
import { worstWallMs } from '../../client/common/clock-bound.ts';
import { gridReading, leftToSendOff, offerFor } from '../../client/deck/actions.ts';
import { answerWords, happening, laneRow, laneWords, linkWords } from '../../client/deck/words.ts';
import { type Board, boardAt } from '../../shared-types/board/board.ts';
import { deviceIdSchema, instant, ms, runIdSchema, sheetHashSchema } from '../../shared-types/brand.ts';
import type { Run } from '../../shared-types/events.ts';
import { newRun } from '../../shared-types/fold.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';
import { sheetOf } from '../fixtures/planning.ts';

const FACE = { timezone: 'UTC', trimMs: 0 };
const SETTINGS = { ...FACE, gridMs: 5000, leadInMs: 3000 };

const sheet = sheetOf(`
  Main set: race pace
  2 rounds:
    4 x 50 free @ 1:00 at 200 pace
  wait
  100 easy
`);

/** Every lane at `position`, where it came by moving from instant 0 on, or where it is held. */
function board(state: Run['state'], position: number): Board {
  const run = newRun(runIdSchema.parse('0'.repeat(32)), sheetHashSchema.parse('0'.repeat(64)), sheet, instant(0));
  const isMoving = state === 'running';
  const motions = run.motions.map((motion) =>
    isMoving ? ({ ...motion, rate: 1 } as const) : { ...motion, position: ms(position) },
  );
  const at = instant(isMoving ? position : 0);
  return boardAt(sheet, { ...run, state, motions }, at, { labels: {}, face: FACE });
}

const kinds = (at: Board): string[] => offerFor(at, sheet).main.map(({ press }) => press);

describe('what the deck offers', () => {
  it('[RUN4] start first, with the quarters of the minute, and nothing to hold', () => {
    const offer = offerFor(board('ready', 0), sheet);
    expect(offer.main.map(({ press }) => press)).toEqual(['start']);
    expect(offer).toMatchObject({ quarters: true, hold: false, back: false, finish: true });
  });

  it('[RUN4] next, hold and back while lanes are on their way', () => {
    expect(kinds(board('running', 90_000))).toEqual(['next']);
    expect(offerFor(board('running', 90_000), sheet)).toMatchObject({ hold: true, back: true, quarters: false });
  });

  it('[RUN4] resume alone while held', () => {
    expect(kinds(board('held', 90_000))).toEqual(['resume']);
    expect(offerFor(board('held', 90_000), sheet)).toMatchObject({ hold: false, back: false, finish: true });
  });

  it('go, for everybody, when every lane waits at the gate', () => {
    const offer = offerFor(board('running', 480_000), sheet);
    expect(offer.main).toEqual([{ press: 'go', gate: expect.any(Number), word: 'Go', whom: '' }]);
    expect(offer.nextToo).toBe(false);
  });

  it('one go for each gate that lanes wait at, naming its lanes', () => {
    const split = sheetOf(`
      Main set
      A, B:
        4 x 25 fly on go max
      C:
        4 x 50 back on go build
    `);
    const run = newRun(runIdSchema.parse('0'.repeat(32)), sheetHashSchema.parse('0'.repeat(64)), split, instant(0));
    const motions = run.motions.map((motion) => ({ ...motion, rate: 1, gates: 1 }) as const);
    const at = boardAt(split, { ...run, state: 'running', motions }, instant(600_000), { labels: {}, face: FACE });
    expect(offerFor(at, split).main.map(({ word, whom }) => `${word} ${whom}`)).toEqual(['Go lanes 1–2', 'Go lane 3']);
  });

  it('nothing when finished', () => {
    expect(offerFor(board('finished', 90_000), sheet)).toMatchObject({ main: [], finish: false, hold: false });
  });
});

describe('the reading a press acts on', () => {
  it('[CMD2] is the next multiple of five seconds that leaves three to get ready', () => {
    expect(gridReading(instant(0), SETTINGS, 0)).toBe(':05');
    expect(gridReading(instant(2000), SETTINGS, 0)).toBe(':05');
    expect(gridReading(instant(2001), SETTINGS, 0)).toBe(':10');
  });

  it('[CMD2] after a hold is that of the first send-off', () => {
    const held = board('held', 47_000);
    expect(leftToSendOff(held)).toBe(13_000);
    expect(gridReading(instant(0), SETTINGS, leftToSendOff(held))).toBe(':20');
  });
});

describe('what the deck says', () => {
  it('names the section, the state, the set, and the round and rep of the leading lane', () => {
    expect(happening(board('running', 310_000))).toEqual({
      where: 'Main set · running',
      what: '4 × 50 free at 200 pace',
      rep: 'round 2 of 2, rep 2 of 4',
      upNext: 'then 100 free easy',
    });
  });

  it('says of a lane what it does, which rep, and when it leaves next', () => {
    const lane = board('running', 45_000).lanes[0];
    if (!lane) throw new Error('the practice has lanes');
    expect(laneRow(lane, 'running')).toMatchObject({
      phaseWords: 'rest',
      rep: 'rep 2 of 4 · round 1',
      reading: ':00',
      countdown: 'in :15',
      moves: true,
    });
  });

  it('says held lanes what is left', () => {
    const lane = board('held', 47_000).lanes[0];
    if (!lane) throw new Error('the practice has lanes');
    expect(laneRow(lane, 'held')).toMatchObject({
      phaseWords: 'held',
      reading: '',
      countdown: 'left :13',
      moves: false,
    });
  });

  it('writes neighbouring lanes as one stretch', () => {
    expect(laneWords([4])).toBe('lane 4');
    expect(laneWords([5, 1, 2, 3])).toBe('lanes 1–3, 5');
  });

  it('[SYN5] says how far its own clock and the worst wall may be off, and warns above 50 ms', () => {
    expect(linkWords('live', 3.2, null, null)).toEqual({ words: 'in step, ±4\u00a0ms', warn: false });
    expect(linkWords('live', 3.2, 50, null)).toEqual({ words: 'in step, ±4\u00a0ms; walls ±50\u00a0ms', warn: false });
    expect(linkWords('live', 3.2, 79.1, null)).toEqual({
      words: 'in step, ±4\u00a0ms; clock of a wall is only right within 80\u00a0ms',
      warn: true,
    });
    expect(linkWords('live', 50.5, 4, null)).toEqual({
      words: 'this clock is only right within 51\u00a0ms; walls ±4\u00a0ms',
      warn: true,
    });
  });

  it('[SYN5] takes the worst of the walls that have measured their clocks', () => {
    const screen = (role: 'wall' | 'deck', syncBoundMs: number | null, n: number): ScreenInfo => {
      const device = deviceIdSchema.parse(String(n).repeat(32));
      return { device, role, syncBoundMs, width: null, height: null };
    };
    expect(worstWallMs([screen('wall', 4, 1), screen('wall', 80, 2), screen('wall', null, 3)])).toBe(80);
    expect(worstWallMs([screen('deck', 90, 1), screen('wall', null, 2)])).toBeNull();
  });

  it('[CMD8] says without the server that presses will not count', () => {
    const words = 'server not reached: presses will not count';
    expect(linkWords('alone', 3, 80, null)).toEqual({ words, warn: true });
  });

  it('[CMD3] says what happened meanwhile', () => {
    const since = ['another device held the lanes 2 s ago'];
    const answer = {
      ok: false,
      code: 'overtaken',
      message: 'Somebody else was quicker.',
      since,
      fix: 'Look.',
    } as const;
    expect(answerWords(answer)).toBe('Somebody else was quicker. Another device held the lanes 2 s ago. Look.');
    expect(answerWords({ ok: true, seq: 1 })).toBe('');
    expect(answerWords(null)).toMatch(/did not answer/);
  });
});
