/**
 * Which tables hold something of swimmers, and what becomes of it. A test compares this with the database: a new table
 * has to be named here before it can pass.
 */

/** Have a `swimmer_id`: rows go when that swimmer is deleted for good, and into the swimmer's export. */
export const OF_SWIMMERS = ['absences', 'kept_sets', 'loads', 'swimmers', 'take_overs'] as const;

/**
 * Have a `run_id`: rows go when the run is older than what is kept; children stand before what they point at.
 * `kept_sets` points at `kept_runs`, all others at `runs`.
 */
export const OF_RUNS = [
  'kept_sets',
  'kept_runs',
  'loads',
  'take_overs',
  'mark_events',
  'commands',
  'events',
  'runs',
] as const;

/** Swimmers stand somewhere within a column: `swimmer-erasure.ts` says of each what is done about it. */
export const WITHIN = ['mark_events', 'removed_demo', 'runs', 'squad_before'] as const;

/** Under the ids of swimmers, which lead to nobody once the name is gone; those of no run that is kept go with it. */
export const PSEUDONYMOUS = ['events', 'sheets', 'deletions'] as const;

/** Nothing in them is of a swimmer, but what coaches write into texts. */
export const OF_NOBODY = [
  'clock_anchor',
  'commands',
  'deleted_practices',
  'devices',
  'installation',
  'kept_runs',
  'planned_practices',
  'pools',
  'practice_facts',
  'practices',
  'walls',
  'wrong_codes',
] as const;
