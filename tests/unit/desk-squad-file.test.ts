import { describe, expect, test } from 'vitest';
import { createSquadFile } from '../../client/desk/squad-file-model.ts';
import { changeWords, countWords, loadWords, rowWords, undoWords } from '../../client/desk/squad-preview-words.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import type { SquadPreview } from '../../shared-types/wire/squad.ts';
import { best, swimmer } from '../fixtures/planning.ts';

const PREVIEW: SquadPreview = {
  goodRows: 38,
  badRows: 2,
  repeatedLines: [],
  problems: [],
  canBeLoaded: true,
  leftOut: [],
  swimmers: [
    { name: 'Ada Vint', kind: 'added', line: 2, changes: [] },
    { name: 'Bo Tarn', kind: 'unchanged', line: 3, changes: [] },
  ],
};
const STORED: SquadAnswer = { swimmers: [swimmer('Ada Vint', 1, 'A', [best('200 free', '2:10.00')])], demo: false };
const REFUSED = { ok: false, code: 'loaded-in-between', message: 'Somebody loaded another squad in between.' } as const;

function onDesk({ undoIsRefused = false } = {}) {
  const done: string[] = [];
  const said: string[] = [];
  const model = createSquadFile(
    {
      previewSquad: async (_csv, fileName) => {
        done.push(`look at ${fileName}`);
        return { ok: true, value: PREVIEW };
      },
      loadSquad: async (csv, fileName) => {
        done.push(`load ${csv} of ${fileName}`);
        return { ok: true, value: STORED };
      },
      squadBefore: async () => ({ ok: true, value: { before: { fileName: 'squad.csv', loadedAt: 7, swimmers: 24 } } }),
      undoSquad: async (loadedAt) => {
        done.push(`undo ${loadedAt}`);
        return undoIsRefused ? REFUSED : { ok: true, value: STORED };
      },
    },
    {
      adopt: (_stored, words) => void said.push(words),
      reload: async () => void done.push('ask again'),
    },
  );
  return { model, done, said };
}

describe('a squad file on the desk', () => {
  test('is looked at first, and loaded as it was looked at', async () => {
    const { model, done, said } = onDesk();
    expect(await model.load()).toBe(false);
    await model.lookAt('rows', 'squad.csv');
    expect(model.look.value?.preview).toEqual(PREVIEW);
    expect(await model.load()).toBe(true);
    expect(done).toEqual(['look at squad.csv', 'load rows of squad.csv']);
    expect(said).toEqual(['1 swimmer from squad.csv, 1 of them with a lane. 2 rows were left out.']);
    expect([model.look.value, model.before.value?.loadedAt]).toEqual([null, 7]);
  });

  test('is not loaded twice by a second press', async () => {
    const { model, done } = onDesk();
    await model.lookAt('rows', 'squad.csv');
    await Promise.all([model.load(), model.load()]);
    expect(done).toEqual(['look at squad.csv', 'load rows of squad.csv']);
  });

  test('left without loading changes nothing', async () => {
    const { model, done } = onDesk();
    await model.lookAt('rows', 'squad.csv');
    model.leave();
    expect([model.look.value, done]).toEqual([null, ['look at squad.csv']]);
  });

  test('is undone as it was seen; when another was loaded in between the page asks what is there now', async () => {
    const { model, done, said } = onDesk({ undoIsRefused: true });
    await model.reload();
    await model.undo();
    expect(done).toEqual(['undo 7', 'ask again']);
    expect([model.problem.value?.message, said]).toEqual([REFUSED.message, []]);
    const other = onDesk();
    await other.model.reload();
    await other.model.undo();
    expect(other.said).toEqual(['The squad of before is back: 1 swimmer.']);
  });
});

test('what a file would change is said in words', () => {
  expect(countWords(PREVIEW)).toEqual(['1 new', '1 as before']);
  expect(loadWords(PREVIEW)).toBe('Load the 38 good rows, leave out 2');
  expect(loadWords({ ...PREVIEW, badRows: 0 })).toBe('Load this squad');
  expect(rowWords({ ...PREVIEW, repeatedLines: [4] })).toBe(
    '38 rows can be read, 2 cannot. 1 row says what another says already (line 4).',
  );
  expect(rowWords({ ...PREVIEW, goodRows: 0, badRows: 0 })).toBe('The file has no row that could be loaded.');
  expect(changeWords({ was: '59.80', becomes: '58.90' })).toBe('59.80 → 58.90');
  expect(changeWords({ was: null, becomes: '58.90' })).toBe('new: 58.90');
  expect(changeWords({ was: '59.80', becomes: null })).toBe('taken out: 59.80');
  expect(undoWords({ fileName: 'squad.csv', loadedAt: 7, swimmers: 24 })).toBe(
    'Undo loading squad.csv: put back the 24 swimmers of before',
  );
});
