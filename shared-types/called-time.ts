import { type Ms, ms } from './brand.ts';
import { formatSwimTime, readTypedTime } from './time.ts';

/**
 * Times as swimmers call them out and a coach types them. Pure. Times taken by hand carry one decimal here: a thumb is
 * no better than that. So of figures alone the last is always the tenth, the two before it are seconds, what is before
 * those minutes: `295` is 29.5, `1023` is 1:02.3, `10234` is 10:23.4. Who has read hundredths off a clock types the
 * point: `1:02.34`.
 */

export type CalledTime = { readonly ok: true; readonly ms: Ms } | { readonly ok: false; readonly message: string };

/** Faster than this nobody swims, fins and cords included, in units of the course a second (a convention of ours). */
const FASTEST = 4;
/** Slower than this nobody swims; who stopped on the way has no time (a convention of ours). */
const SLOWEST = 0.1;

const FIGURES = /^\d+$/;

const refused = (message: string): CalledTime => ({ ok: false, message });

/** Figures alone, at least two. */
function readFigures(figures: string): CalledTime {
  if (figures.length < 2) return refused('Type the tenth too: 29.5 is 295.');
  if (figures.length > 5) return refused('That is too long for a time: 10:23.4 is 10234.');
  const minutes = Number(figures.slice(0, -3));
  const seconds = Number(figures.slice(-3, -1));
  if (minutes > 0 && seconds > 59) {
    return refused(`A minute has no ${seconds} seconds: 1:02.3 is 1023.`);
  }
  return { ok: true, ms: ms((minutes * 600 + seconds * 10 + Number(figures.slice(-1))) * 100) };
}

function readText(typed: string): CalledTime {
  const text = typed.trim();
  if (text === '') return refused('Type a time: 29.5 is 295.');
  if (FIGURES.test(text)) return readFigures(text);
  const read = readTypedTime(text);
  return read === null ? refused('That is no time: 29.5 is 295, 1:02.3 is 1023.') : { ok: true, ms: read };
}

/**
 * Reads a time that was called out: figures alone, or written as `29.5`, `1:02.3`, `1:02.34`.
 * @param distance what was swum in it, in the course's unit: what nobody can have swum is refused
 */
export function readCalledTime(typed: string, distance: number): CalledTime {
  const read = readText(typed);
  if (!read.ok) return read;
  const words = `${formatSwimTime(read.ms, 1)} for ${distance}`;
  const perSecond = (distance * 1000) / read.ms;
  if (perSecond > FASTEST) return refused(`Nobody is so fast: ${words}.`);
  if (perSecond < SLOWEST) return refused(`Nobody is so slow: ${words}.`);
  return read;
}
