import { randomInt } from 'node:crypto';
import { expect, test } from 'vitest';
import { seeded } from '../bench/seeded.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';
import { KillVictim } from './kill-victim.ts';

/** `npm run faults` sets both. The seed gives presses and moments of kills; what the machine makes of them is its own. */
const KILLS = Number(process.env.FARWALL_KILLS ?? 20);
const SEED = Number(process.env.FARWALL_SEED ?? randomInt(2 ** 32));

/** The longest a restart takes on a machine that is busy with other tests. */
const MOST_MS_A_KILL = 15_000;

test(`[FLT1] killed ${KILLS} times at random moments (seed ${SEED}), the server keeps all it has said`, {
  timeout: KILLS * MOST_MS_A_KILL,
}, async () => {
  const victim = new KillVictim(temporaryFolder(), seeded(SEED));
  await victim.putOnWall();
  for (let kill = 1; kill <= KILLS; kill += 1) {
    try {
      await victim.kill();
      await victim.expectNothingLost();
    } catch (error) {
      throw new Error(`seed ${SEED}, kill ${kill}: ${String(error)}`, { cause: error });
    }
  }
  await victim.expectAllOnDisk();
  // All kinds were there to be lost.
  for (const kind of ['command', 'mark'] as const) {
    const answered = victim.answered.filter(({ event }) => event === kind);
    const accepted = answered.filter(({ answer }) => answer.ok);
    expect(accepted.length).toBeGreaterThan(KILLS / 2);
    expect(accepted.length).toBeLessThan(answered.length);
  }
});
