/** What a whole board is doing. */
export const BOARD_PHASES = ['idle', 'ready', 'running', 'held', 'finished'] as const;
export type BoardPhase = (typeof BOARD_PHASES)[number];

/** What a lane is doing. */
export const LANE_PHASES = ['ready', 'leaving', 'swimming', 'easy', 'resting', 'joining', 'gate', 'done'] as const;
export type LanePhase = (typeof LANE_PHASES)[number];

/** In the last five seconds before a lane's first swimmer leaves, its band changes. */
export const LEAVING_MS = 5000;
