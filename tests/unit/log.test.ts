import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { jsonLog } from '../../server/log.ts';

const AT = Date.UTC(2027, 0, 15, 8, 0, 0);

/** A log, and the lines in it. */
function writtenLog(quiet = false) {
  const lines: string[] = [];
  return {
    lines,
    log: jsonLog(
      (line) => lines.push(line),
      () => AT,
      quiet,
    ),
  };
}

const stackSchema = z.object({ stack: z.array(z.string()) });

describe('the log', () => {
  test('writes one JSON object a line, with the instant', () => {
    const { lines, log } = writtenLog();
    log.note({ what: 'connected', role: 'deck', device: 'd1' });
    expect(lines).toEqual(['{"at":"2027-01-15T08:00:00.000Z","what":"connected","role":"deck","device":"d1"}\n']);
  });

  test('that is quiet keeps faults only', () => {
    const { lines, log } = writtenLog(true);
    log.note({ what: 'connected', role: 'deck', device: 'd1' });
    expect(lines).toEqual([]);
    log.fault(new Error('no room'));
    expect(lines.join('')).toMatch(/"what":"fault","name":"Error","message":"no room"/);
  });

  test('keeps an error with its stack on one line', () => {
    const { lines, log } = writtenLog();
    log.fault(new RangeError('first\nsecond'));
    expect(lines).toHaveLength(1);
    expect(lines[0]?.indexOf('\n')).toBe((lines[0]?.length ?? 0) - 1);
    const fault: unknown = JSON.parse(lines[0] ?? '');
    expect(fault).toMatchObject({ what: 'fault', name: 'RangeError', message: 'first\nsecond' });
    expect(stackSchema.parse(fault).stack[0]).toMatch(/^at .*log\.test\.ts/);
  });

  test('lets nobody forge a line or turn the terminal', () => {
    const { lines, log } = writtenLog();
    // Line feeds, ANSI escapes of one and of two characters, a line separator, a turn of the reading direction.
    const text = 'x\r\n{"what":"command"}\u001b[2K\u009b2K\u2028\u202e\u0085\u007f';
    log.fault(text);
    log.fault(new Error(text));
    for (const line of lines) expect(line.slice(0, -1)).toMatch(/^[ -~]*$/);
    expect(lines.map((line) => JSON.parse(line).message)).toEqual([text, text]);
  });

  test('leaves out what a parser quotes, in which names may stand', () => {
    const { lines, log } = writtenLog();
    expect(() => JSON.parse('{"name": Ada Vint}')).toThrow(SyntaxError);
    try {
      JSON.parse('{"name": Ada Vint}');
    } catch (error) {
      log.fault(error);
    }
    expect(lines.join('')).toMatch(/"name":"SyntaxError"/);
    expect(lines.join('')).not.toMatch(/Ada/);
  });

  test('takes anything for a fault, and cuts what is endless', () => {
    const { lines, log } = writtenLog();
    log.fault(null);
    log.fault('x'.repeat(100_000));
    expect(lines.map((line) => line.length < 2000)).toEqual([true, true]);
  });
});
