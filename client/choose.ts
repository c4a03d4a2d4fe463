import './choose.css';
import { type Alive, aliveSchema, type Health, healthSchema } from '../shared-types/wire/desk.ts';
import { ask } from './common/ask.ts';

/** What a coach who opens the wrong screen first would like to know. */
function standingOf(told: Health | Alive): string {
  if (told.database === 'read-only') return 'Nothing can be stored just now: look at the laptop that Farwall runs on.';
  if (!('run' in told)) return 'Which screen is this?';
  const { run } = told;
  if (!run || run.state === 'finished') return 'Which screen is this? Nothing is on the wall yet.';
  if (run.state === 'ready') return 'Which screen is this? A practice is on the wall, ready to start.';
  return 'Which screen is this? A practice is under way.';
}

async function saySo(place: HTMLElement): Promise<void> {
  const health = await ask(healthSchema.or(aliveSchema), 'GET', '/health');
  place.textContent = health.ok ? standingOf(health.value) : `${health.message} ${health.fix ?? ''}`.trim();
}

const standing = document.getElementById('standing');
if (standing) void saySo(standing);
