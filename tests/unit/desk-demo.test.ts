import { describe, expect, test } from 'vitest';
import { createDemo } from '../../client/desk/demo-model.ts';
import { removedWords } from '../../client/desk/demo-words.ts';
import { createDrafts, libraryOn } from '../fixtures/desk-library.ts';

const REMOVED = { swimmers: 24, practices: 5, planned: 0, runs: 0, kept: 0 };
const REFUSED = { ok: false, code: 'still-running', message: 'A practice of the demo is under way.' } as const;

function onDesk({ isRefused = false, restored = { swimmers: 24, practices: 5 } } = {}) {
  const done: string[] = [];
  let removed: typeof REMOVED | null = null;
  const model = createDemo(
    {
      demo: async () => ({ ok: true, value: { removed } }),
      addDemo: async () => ({ ok: true, value: {} }),
      removeDemo: async () => {
        if (isRefused) return REFUSED;
        removed = REMOVED;
        return { ok: true, value: { removed } };
      },
      bringDemoBack: async () => {
        if (isRefused) return REFUSED;
        removed = null;
        return { ok: true, value: restored };
      },
    },
    {
      come: async () => {
        done.push('come');
        await model.reload();
      },
      gone: async () => {
        // Whoever pressed must find the way back at the same place at once.
        done.push(`gone, ${model.removed.value?.practices} practices to bring back`);
      },
    },
  );
  return { model, done };
}

describe('the demo on the desk', () => {
  test('goes at a press and comes back at another', async () => {
    const { model, done } = onDesk();
    await model.remove();
    await model.bringBack();
    expect(done).toEqual(['gone, 5 practices to bring back', 'come']);
    expect([model.removed.value, model.note.value, model.problem.value]).toEqual([null, '', null]);
  });

  test('pressed twice goes once', async () => {
    const { model, done } = onDesk();
    await Promise.all([model.remove(), model.remove()]);
    expect(done).toHaveLength(1);
  });

  test('that comes back beside another squad says that this one stays', async () => {
    const { model } = onDesk({ restored: { swimmers: 0, practices: 5 } });
    await model.remove();
    await model.bringBack();
    expect(model.note.value).toMatch(/another squad by now, and it stays/);
  });

  test('says why it cannot go, until it can', async () => {
    const { model, done } = onDesk({ isRefused: true });
    await model.remove();
    expect([model.problem.value, done]).toEqual([{ message: REFUSED.message }, []]);
    await model.add();
    expect(model.problem.value).toBe(null);
  });
});

test.for([
  [REMOVED, 'The demo is removed: 24 swimmers, 5 practices.'],
  [
    { ...REMOVED, swimmers: 0, practices: 1, planned: 1 },
    'The demo is removed: 1 practice, 1 place in the week’s plan.',
  ],
  [
    { ...REMOVED, planned: 3, kept: 1, runs: 2 },
    'The demo is removed: 24 swimmers, 5 practices, 3 places in the week’s plan. The practice of it that was changed stays. What its swimmers swam stays under Results, as rehearsed.',
  ],
  [
    { ...REMOVED, practices: 3, kept: 2 },
    'The demo is removed: 24 swimmers, 3 practices. The 2 practices of it that were changed stay.',
  ],
] as const)('what is gone is said in words: %o', ([removed, words]) => {
  expect(removedWords(removed)).toBe(words);
});

describe('an open practice that is stored no longer', () => {
  test('is left when nothing of it would be lost', async () => {
    const { library, manuscript, remove } = libraryOn(createDrafts());
    await library.reload();
    await library.resume();
    remove();
    await library.reload();
    await library.leaveGone();
    expect([manuscript.open.value?.baseVersion, manuscript.text.value]).toEqual([0, '']);
  });

  test('stays open with what is not saved, and goes on from the version it was made from', async () => {
    const drafts = createDrafts();
    const { library, manuscript, remove } = libraryOn(drafts);
    await library.reload();
    await library.resume();
    manuscript.write('# Monday\n\n500 free easy\n');
    remove();
    await library.reload();
    await library.leaveGone();
    expect(manuscript.text.value).toContain('500');

    const again = libraryOn(drafts);
    again.remove();
    await again.library.reload();
    await again.library.resume();
    expect([again.manuscript.open.value?.baseVersion, again.manuscript.text.value]).toEqual([
      1,
      '# Monday\n\n500 free easy\n',
    ]);
  });
});
