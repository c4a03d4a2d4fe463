import type { Screen } from '../../client/wall/legibility.ts';
import type { Board } from '../../shared-types/board/board.ts';
import { type BoardPlan, boardOfPlan, emptyBoard, LONG_NAMES } from './scene-boards.ts';

/** What the wall looks like, as data: each scene is drawn and held against its picture. */
export interface WallScene {
  readonly name: string;
  readonly screen: Screen;
  readonly board: Board;
  readonly notice?: string;
  /** `canvas` unless said: what draws without a graphics processor. `plain`: words, where nothing can be drawn. */
  readonly renderer?: 'canvas' | 'webgl' | 'plain';
  /** While working on a scene: draws this one alone. The run fails all the same. */
  readonly only?: true;
}

const HD = { width: 1280, height: 720 } as const;
const FULL_HD = { width: 1920, height: 1080 } as const;
const UHD = { width: 3840, height: 2160 } as const;
const WIDE = { width: 2560, height: 1080 } as const;
const TALL = { width: 1080, height: 1920 } as const;

const PACED = 'Main set: race pace\n8 x 50 free @ 1:00/1:10/1:20 at 200 pace\n2:00 rest\n6 x 50 kick @ 1:10\n';
const PARTS = 'Main set: active rest\n8 x 100 free @ 1:25/1:35/1:45 (50 at 200 pace, 50 easy)\n';
const BROKEN = 'Main set: race pace\n6 x 150 free @ 3:00 (50 at 200 pace, 50 easy, 50 at 200 pace)\n';
const FIFTEENS = 'Main set: active rest\n8 x 25 free @ :40/:45/:50 (15 at 200 pace, 10 easy)\n';
const MAX = 'Speed: power\n6 x 25 free from a dive max @ 1:00\n';
const ROUNDS =
  'Main set: race pace\n4 rounds, 2:00 between:\n  4 x 25 free @ :40/:45/:50 at 200 pace\n  100 choice easy @ 2:20\n';
const GATE = 'Main set: stand-up\n4 x 50 free at 200 pace @ 1:00\nwait\n4 x 25 free max @ 2:00\n';
const HEATS = 'Main set: stand-up\n4 x 25 free from a dive on go by heat max\n';
const TWO_SETS = 'Main set\nA:\n  4 x 25 fly max @ 1:00\nB, C:\n  6 x 50 free at 200 pace @ 1:10/1:20\n';
const JOIN = 'Warm-up\n2 x 50 free @ :50/1:10/1:30 at 80% of 200 pace\ntogether\n4 x 50 kick @ 1:10\n';
const WORDY =
  'Threshold and technique before the meet on Saturday\n12 x 100 IM order drill with fins + paddles + snorkel @ 1:45/1:55/2:05\n4 x 200 free @ 3:30 at 90% of 200 pace\n';
const LONG_REP = 'Main set\n3 x 400 free @ 6:30 at 85% of 200 pace\n';

const six = (text: string, more: Partial<BoardPlan> = {}): Board =>
  boardOfPlan({ text, lanes: 6, swimmers: 4, at: 25, ...more });
const lanesOf = (lanes: number, more: Partial<BoardPlan> = {}): Board => six(PACED, { lanes, swimmers: 4, ...more });

const READY: WallScene[] = [
  { name: 'idle', screen: FULL_HD, board: emptyBoard(32) },
  { name: 'idle-top-of-minute-uhd', screen: UHD, board: emptyBoard(0) },
  { name: 'idle-tall', screen: TALL, board: emptyBoard(48) },
  { name: 'idle-wide-alone', screen: WIDE, board: emptyBoard(9), notice: 'no connection: going on alone' },
  { name: 'ready', screen: FULL_HD, board: boardOfPlan({ text: PACED, lanes: 6, swimmers: 4 }) },
  { name: 'ready-ten-lanes', screen: FULL_HD, board: boardOfPlan({ text: ROUNDS, lanes: 10, swimmers: 4 }) },
  { name: 'finished', screen: FULL_HD, board: six(PACED, { at: 58, presses: [[50, { kind: 'finish' }]] }) },
];

const PHASES: WallScene[] = [
  { name: 'leaving-all', screen: FULL_HD, board: six(PACED, { at: 2 }) },
  { name: 'swimming-first-gap', screen: FULL_HD, board: six(PACED, { at: 7 }) },
  { name: 'swimming', screen: FULL_HD, board: six(PACED) },
  { name: 'resting', screen: FULL_HD, board: six(PACED, { at: 56 }) },
  { name: 'leaving-some', screen: FULL_HD, board: six(PACED, { at: 72 }) },
  { name: 'easy-part', screen: FULL_HD, board: six(PARTS, { at: 52 }) },
  { name: 'part-of-a-length', screen: FULL_HD, board: six(FIFTEENS, { at: 20 }) },
  { name: 'part-of-a-length-mirrored', screen: FULL_HD, board: six(FIFTEENS, { at: 20, mirrored: true }) },
  { name: 'broken-swim', screen: FULL_HD, board: six(BROKEN, { at: 60 }) },
  { name: 'max-without-targets', screen: FULL_HD, board: six(MAX, { at: 12 }) },
  { name: 'kick-without-targets', screen: FULL_HD, board: six(PACED, { untimed: true }) },
  { name: 'rounds', screen: FULL_HD, board: six(ROUNDS, { at: 30 }) },
  { name: 'between-rounds', screen: FULL_HD, board: six(ROUNDS, { at: 180 }) },
  { name: 'gate', screen: FULL_HD, board: six(GATE, { at: 290 }) },
  { name: 'heats', screen: FULL_HD, board: six(HEATS, { at: 12 }) },
  { name: 'regroup', screen: FULL_HD, board: six(JOIN, { at: 120 }) },
  { name: 'two-sets', screen: FULL_HD, board: six(TWO_SETS, { at: 30 }) },
  { name: 'held', screen: FULL_HD, board: six(PACED, { at: 30, presses: [[27, { kind: 'hold' }]] }) },
  { name: 'held-parts-hd', screen: HD, board: six(PARTS, { at: 60, presses: [[50, { kind: 'hold' }]] }) },
  { name: 'long-rep', screen: FULL_HD, board: six(LONG_REP, { at: 200 }) },
  { name: 'alone', screen: FULL_HD, board: six(ROUNDS), notice: 'no connection: going on alone' },
];

const SIZES: WallScene[] = [
  { name: 'one-lane', screen: FULL_HD, board: lanesOf(1) },
  { name: 'one-lane-crowded', screen: FULL_HD, board: lanesOf(1, { swimmers: 12 }) },
  { name: 'two-lanes', screen: FULL_HD, board: lanesOf(2) },
  { name: 'four-lanes-hd', screen: HD, board: lanesOf(4, { at: 12 }) },
  { name: 'eight-lanes', screen: { ...FULL_HD, distanceM: 12 }, board: lanesOf(8) },
  { name: 'ten-lanes-too-far', screen: { ...FULL_HD, distanceM: 15 }, board: lanesOf(10) },
  { name: 'twelve-lanes-too-small', screen: { ...HD, diagonalInches: 43 }, board: lanesOf(12) },
  { name: 'six-lanes-uhd-near', screen: { ...UHD, diagonalInches: 98, distanceM: 6 }, board: lanesOf(6) },
  { name: 'six-lanes-near-parts', screen: { ...FULL_HD, diagonalInches: 98, distanceM: 6 }, board: six(BROKEN) },
  { name: 'six-lanes-wide', screen: WIDE, board: lanesOf(6) },
  { name: 'eight-lanes-wide-leaving', screen: WIDE, board: lanesOf(8, { at: 3 }) },
  { name: 'six-lanes-tall', screen: TALL, board: lanesOf(6) },
  { name: 'six-lanes-tall-near', screen: { ...TALL, distanceM: 5 }, board: lanesOf(6, { at: 12 }) },
  { name: 'ten-lanes-tall', screen: TALL, board: lanesOf(10, { at: 62 }) },
];

const CONTENT: WallScene[] = [
  { name: 'long-names', screen: FULL_HD, board: six(PACED, { names: LONG_NAMES }) },
  { name: 'long-names-near', screen: { ...FULL_HD, distanceM: 4 }, board: six(PACED, { names: LONG_NAMES, at: 12 }) },
  { name: 'long-names-max', screen: HD, board: six(MAX, { names: LONG_NAMES, at: 8 }) },
  { name: 'wordy-set', screen: FULL_HD, board: six(WORDY) },
  { name: 'wordy-set-tall', screen: TALL, board: six(WORDY) },
  { name: 'reversed', screen: FULL_HD, board: six(PACED, { reversed: true }) },
  { name: 'mirrored', screen: FULL_HD, board: six(PACED, { mirrored: true }) },
  { name: 'reversed-and-mirrored', screen: HD, board: six(PARTS, { reversed: true, mirrored: true, at: 52 }) },
];

const FALLBACKS: WallScene[] = [
  { name: 'webgl-swimming', screen: HD, board: six(PACED), renderer: 'webgl' },
  { name: 'webgl-leaving', screen: HD, board: six(PACED, { at: 2 }), renderer: 'webgl' },
  { name: 'webgl-idle', screen: HD, board: emptyBoard(57), renderer: 'webgl' },
  { name: 'plain-swimming', screen: HD, board: six(PACED), renderer: 'plain' },
  { name: 'plain-idle', screen: HD, board: emptyBoard(57), renderer: 'plain' },
];

export const WALL_SCENES: readonly WallScene[] = [...READY, ...PHASES, ...SIZES, ...CONTENT, ...FALLBACKS];
