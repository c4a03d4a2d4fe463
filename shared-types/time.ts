import { type Instant, type Ms, ms } from './brand.ts';

const CLOCK = /^(\d{0,3}):([0-5]\d)(?:\.(\d{1,2}))?$/;
const SECONDS = /^(\d{1,4})(?:\.(\d{1,2}))?s?$/;

/** Hundredths written as one or two digits ("3" is 30 hundredths), in milliseconds. */
const fractionMs = (digits: string | undefined): number => (digits ? Number(digits.padEnd(2, '0')) * 10 : 0);

/**
 * Reads a clock time as coaches write it: `1:30`, `:45`, `12:00`, `1:05.3`, `1:05.32`.
 * @returns milliseconds, or null when the text is not such a time
 */
export function parseClock(text: string): Ms | null {
  const match = CLOCK.exec(text);
  if (!match) return null;
  return ms((Number(match[1] || 0) * 60 + Number(match[2])) * 1000 + fractionMs(match[3]));
}

/**
 * Reads a swim time: everything {@link parseClock} reads, and plain seconds `31.5`, `58.42`, `45s`.
 * @returns milliseconds, or null when the text is not such a time
 */
export function parseSwimTime(text: string): Ms | null {
  const clock = parseClock(text);
  if (clock !== null) return clock;
  const match = SECONDS.exec(text);
  return match ? ms(Number(match[1]) * 1000 + fractionMs(match[2])) : null;
}

/** Minutes with a point before the decimal comma; `1.58` alone stays seconds. */
const POINT_AND_COMMA = /^(\d{1,3})\.([0-5]\d,\d{1,2})$/;

/**
 * Reads a swim time from a field or a spreadsheet's cell: everything {@link parseSwimTime} reads (`1:58.4`, `118.4`),
 * with a decimal comma too (`1:58,40`), and with the point before it for minutes (`1.58,40`). Spaces around do not matter.
 * @returns milliseconds, or null when the text is not such a time
 */
export function readTypedTime(typed: string): Ms | null {
  return parseSwimTime(typed.trim().replace(POINT_AND_COMMA, '$1:$2').replace(',', '.'));
}

/** `+0.3`, `−0.3`, `0.0`: to the tenth, rounded half up in size, with the sign of what is shown. */
export function signedTenths(value: number): string {
  const tenths = Math.floor(Math.abs(value) * 10 + 0.5);
  const sign = value < 0 ? '−' : '+';
  return `${tenths === 0 ? '' : sign}${(tenths / 10).toFixed(1)}`;
}

/** Rounds half up to a multiple of `unitMs` (swim times are non-negative). */
export const roundHalfUp = (value: number, unitMs: number): number => Math.floor(value / unitMs + 0.5) * unitMs;

/**
 * A duration as on a pace clock: `:45`, `1:30`, `12:00`, `1:05:00`; fractions only when there are any.
 * @param value milliseconds, 0 or more
 */
export function formatClock(value: number): string {
  const hundredths = Math.floor(roundHalfUp(value, 10) / 10);
  const seconds = Math.floor(hundredths / 100);
  const minutes = Math.floor(seconds / 60);
  const hours = Math.floor(minutes / 60);
  const two = (n: number): string => String(n).padStart(2, '0');
  const fraction = hundredths % 100 === 0 ? '' : `.${two(hundredths % 100).replace(/0$/, '')}`;
  if (hours > 0) return `${hours}:${two(minutes % 60)}:${two(seconds % 60)}${fraction}`;
  return `${minutes > 0 ? minutes : ''}:${two(seconds % 60)}${fraction}`;
}

/**
 * A swim time: `29.6`, `1:05.3`; rounded once, here, half up.
 * @param digits 1 on the wall (tenths), 2 on paper (hundredths)
 */
export function formatSwimTime(value: number, digits: 1 | 2): string {
  const unitMs = digits === 1 ? 100 : 10;
  const units = Math.round(roundHalfUp(value, unitMs) / unitMs);
  const perSecond = 1000 / unitMs;
  const seconds = Math.floor(units / perSecond);
  const fraction = String(units % perSecond).padStart(digits, '0');
  const minutes = Math.floor(seconds / 60);
  return minutes > 0
    ? `${minutes}:${String(seconds % 60).padStart(2, '0')}.${fraction}`
    : `${seconds % 60}.${fraction}`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `12 Oct 2026` of an ISO date. */
export function dateText(iso: string): string {
  const [year, month, day] = iso.split('-').map(Number);
  return `${day} ${MONTHS[(month ?? 1) - 1]} ${year}`;
}

/** How the pool's clock is read: the zone it shows and how far it is set ahead of ours. */
export interface ClockFace {
  /** IANA name, e.g. `Europe/Lisbon`. */
  readonly timezone: string;
  /** How many milliseconds the hall's own clock is ahead of the server's. */
  readonly trimMs: number;
}

const MINUTE_MS = 60_000;

/**
 * Milliseconds past the minute that the pool's clock shows, 0 ≤ r < 60 000.
 * Every time zone in use is a whole number of minutes from UTC, so the zone does not matter here.
 */
export function pastTheMinute(at: Instant, trimMs: number): number {
  return (((at + trimMs) % MINUTE_MS) + MINUTE_MS) % MINUTE_MS;
}

/** A send-off as it is called: the seconds the pool's clock shows then, `:00` to `:59`. */
export function clockReading(at: Instant, trimMs: number): string {
  return `:${String(Math.floor((pastTheMinute(at, trimMs) + 0.5) / 1000) % 60).padStart(2, '0')}`;
}

const dayFormats = new Map<string, Intl.DateTimeFormat>();
/** The latest reading: a wall asks sixty times a second, and a browser takes its time over it. */
let latestDay: { readonly timezone: string; readonly minute: number; readonly text: string } | null = null;

/** The time of day, `18:05`, on the pool's clock. */
export function timeOfDay(at: Instant, { timezone, trimMs }: ClockFace): string {
  // As in pastTheMinute: a minute begins at the same instant in every zone.
  const minute = Math.floor((at + trimMs) / MINUTE_MS);
  if (latestDay?.minute !== minute || latestDay.timezone !== timezone) {
    latestDay = { timezone, minute, text: dayFormat(timezone).format(minute * MINUTE_MS) };
  }
  return latestDay.text;
}

function dayFormat(timezone: string): Intl.DateTimeFormat {
  let format = dayFormats.get(timezone);
  if (!format) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone: timezone,
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
    dayFormats.set(timezone, format);
  }
  return format;
}

/**
 * The first instant, not before `earliest`, at which the pool's clock shows a multiple of `gridMs`
 * (a divisor of a minute) plus `phaseMs`.
 */
export function nextReading(earliest: Instant, gridMs: number, phaseMs: number, trimMs: number): number {
  const past = (((earliest + trimMs - phaseMs) % gridMs) + gridMs) % gridMs;
  return past === 0 ? earliest : earliest + gridMs - past;
}
