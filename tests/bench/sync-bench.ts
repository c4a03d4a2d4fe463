import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { AFTER_OUTAGE_TARGET_MS, OUTAGE_END_TARGET_MS, PROFILES } from '../faults/network-profiles.ts';
import { type Entry, figure } from './measure.ts';
import { type Spread, type TrialResult, trialResultsSchema } from './sync-results.ts';

const RUNS = 1000;
const QUICK_RUNS = 5;

/** Three hours of simulated time in each of a thousand runs take minutes. */
const PATIENCE_MS = 20 * 60_000;

const trial = fileURLToPath(new URL('./sync-trial.ts', import.meta.url));

/** The clock that owes the targets. */
const OURS = 'Farwall';

const p99TargetOf = (profile: string): number | undefined =>
  Object.values(PROFILES).find(({ name }) => name === profile)?.p99Ms;

function entriesOf({ profile, clock, any, outageEnd, afterOutage, beyondBound }: TrialResult): Entry[] {
  const isOurs = clock === OURS;
  const name = `${profile} · ${clock}`;
  const worst = (when: string, spread: Spread | null, targetMs: number): Entry[] =>
    spread ? [figure(`${name}: worst ${when}`, spread.max, 'ms', isOurs ? targetMs : undefined)] : [];
  return [
    figure(`${name}: p50`, any.p50, 'ms'),
    figure(`${name}: p99`, any.p99, 'ms', isOurs ? p99TargetOf(profile) : undefined),
    figure(`${name}: worst`, any.max, 'ms'),
    ...worst('as an outage ends', outageEnd, OUTAGE_END_TARGET_MS),
    ...worst('10 s after an outage', afterOutage, AFTER_OUTAGE_TARGET_MS),
    ...(isOurs ? [figure(`${name}: errors beyond the bound`, beyondBound, '×', 0)] : []),
  ];
}

/**
 * [SYN2] How wrong a page's clock is over simulated networks, beside two others: error of the estimate after 30 s.
 * @throws Error when the trial's process fails
 */
export function syncBench({ seed, quick }: { readonly seed: number; readonly quick: boolean }): Entry[] {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [trial, String(seed), String(quick ? QUICK_RUNS : RUNS)],
    { encoding: 'utf8', timeout: PATIENCE_MS },
  );
  if (status !== 0) throw new Error(`the clocks could not be tried: ${stderr}`);
  return trialResultsSchema.parse(JSON.parse(stdout)).flatMap(entriesOf);
}
