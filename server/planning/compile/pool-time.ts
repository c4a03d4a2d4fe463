import type { Message } from '../../../shared-types/message.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { SheetLane, Step } from '../../../shared-types/sheet.ts';
import { formatClock } from '../../../shared-types/time.ts';

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;

const bookedWords = (bookedMs: number): string =>
  bookedMs % MINUTE_MS === 0 ? `${bookedMs / MINUTE_MS} min` : formatClock(bookedMs);

/**
 * Says where a practice, without the waits for go, outlasts the time the pool is booked for: at the earliest line at
 * which a lane is then. A lane that only waits for others is passed over, because another is still at work.
 */
export function poolTimeMessages(lanes: readonly SheetLane[], { bookedMs }: Pool): Message[] {
  if (bookedMs === undefined) return [];
  const late = lanes.flatMap(({ lane, steps }) => {
    const step = steps.find((candidate) => endsAfter(candidate, bookedMs));
    return step && !waitsForOthers(step) ? [{ lane, line: step.line }] : [];
  });
  const [first] = late.sort((a, b) => a.line - b.line || a.lane - b.lane);
  if (!first) return [];
  const takesMs = Math.max(...lanes.map(({ durationMs }) => durationMs));
  const takes = formatClock(Math.ceil(takesMs / SECOND_MS) * SECOND_MS);
  const text = `the pool is booked for ${bookedWords(bookedMs)}; lane ${first.lane} runs out of it in this line, and the practice takes ${takes} without waits for go`;
  return [{ severity: 'warning', code: 'pool-time', line: first.line, column: 1, lane: first.lane, text }];
}

const endsAfter = ({ atMs, durationMs }: Step, instantMs: number): boolean => atMs + durationMs > instantMs;

const waitsForOthers = (step: Step): boolean => step.kind === 'rest' && step.reason === 'join';
