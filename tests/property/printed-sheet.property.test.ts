import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Names, sheetJson } from '../../server/planning/sheet-json.ts';
import { type PrintedTarget, printedSheetSchema } from '../../server/planning/sheet-json-schema.ts';
import { sheetTable } from '../../server/planning/sheet-table.ts';
import { sheetSchema } from '../../shared-types/sheet.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { DEMO_PRACTICES, demoSquad, demoText, pool25, sheetOf } from '../fixtures/planning.ts';
import { printableText, squadWithNames } from '../fixtures/printable.ts';

const namesOf = ({ swimmers }: Squad): Names => Object.fromEntries(swimmers.map(({ id, name }) => [id, name]));

const printed = (text: string, squad: Squad) => {
  const sheet = sheetOf(text, squad, { ...pool25, bookedMs: 600_000 });
  const names = namesOf(squad);
  return { sheet, names, table: sheetTable(sheet, names), json: JSON.stringify(sheetJson(sheet, names), null, 1) };
};

const runs = (numRuns: number) => ({ numRuns, endOnFailure: true });

function expectSameAgain(text: string, squad: Squad): void {
  const { sheet, names, table, json } = printed(text, squad);
  expect(JSON.stringify(printedSheetSchema.parse(JSON.parse(json)), null, 1)).toBe(json);
  const stored = sheetSchema.parse(JSON.parse(JSON.stringify(sheet)));
  expect(sheetTable(stored, names)).toBe(table);
  expect(JSON.stringify(sheetJson(stored, names), null, 1)).toBe(json);
}

/** The whole of one swimmer's target as it should stand on one line, up to the sign of an estimate. */
function targetOnLine({ swimmer, ms, restMs, workRest, splits }: PrintedTarget): string | null {
  const [only, more] = splits;
  if (!only || more || ms === null) return null;
  const easy = only.paced ? '' : ' easy';
  const rest = restMs === null ? '' : formatSwimTime(Math.abs(restMs), 1);
  const ratio = workRest === undefined ? '' : `, ${workRest}`;
  const inBrackets = restMs !== null && restMs < 0 ? `${rest} too slow` : `${rest}${ratio}`;
  return `${swimmer} ${formatSwimTime(ms, 2)}${easy}${rest === '' ? '' : ` (${inBrackets})`}`;
}

describe('a printed sheet', () => {
  it('never has a line of more than 100 columns', () => {
    fc.assert(
      fc.property(printableText, squadWithNames(60), (text, squad) => {
        for (const line of printed(text, squad).table.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
      }),
      runs(100),
    );
  });

  it('has every target of swimmers with short names whole on one line', () => {
    fc.assert(
      fc.property(printableText, squadWithNames(10), (text, squad) => {
        const { sheet, names, table } = printed(text, squad);
        const lines = table.replaceAll('~', '');
        for (const { steps } of sheetJson(sheet, names).lanes) {
          const targets = steps.flatMap((step) => (step.kind === 'rep' ? step.targets : []));
          for (const target of targets) expect(lines).toContain(targetOnLine(target) ?? '');
        }
      }),
      runs(60),
    );
  });

  it('names every swimmer of a lane in full where the name fits the page', () => {
    fc.assert(
      fc.property(printableText, squadWithNames(40), (text, squad) => {
        const { table } = printed(text, squad);
        for (const { name } of squad.swimmers) expect(table).toContain(name);
      }),
      runs(40),
    );
  });

  it('is the same when its JSON is read and printed again, and when the sheet comes from the store', () => {
    fc.assert(fc.property(printableText, squadWithNames(60), expectSameAgain), runs(60));
    for (const name of DEMO_PRACTICES) expectSameAgain(demoText(name), demoSquad());
  });

  it('has sections whose times and distances add up to those of their lane', () => {
    fc.assert(
      fc.property(printableText, squadWithNames(12), (text, squad) => {
        const { sheet, names } = printed(text, squad);
        const { lanes, bySection, distance } = sheetJson(sheet, names);
        for (const lane of lanes) {
          expect(lane.bySection.reduce((sum, { durationMs }) => sum + durationMs, 0)).toBe(lane.durationMs);
          expect(lane.bySection.reduce((sum, section) => sum + section.distance, 0)).toBe(lane.distance);
          expect(Object.values(lane.byStyle).reduce((sum, style) => sum + style.distance, 0)).toBe(lane.distance);
        }
        expect(bySection.reduce((sum, section) => sum + section.distance, 0)).toBe(distance);
      }),
      runs(60),
    );
  });
});
