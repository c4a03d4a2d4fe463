import { describe, expect, test } from 'vitest';
import { type ChosenFile, createFiles } from '../../client/desk/files-model.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';

const file = (name: string, text = `# ${name}\n`): ChosenFile => ({ name, text: async () => text });

/** A server that keeps what it is sent, and says so after each. */
function onServer(afterEach: (count: number) => void = () => undefined) {
  const texts: string[] = [];
  const state = { reloads: 0 };
  const model = createFiles(
    {
      savePractice: async (id, { text }) => {
        if (text.includes('huge'))
          return { ok: false, code: 'too-large', message: 'This is too large for the server.' };
        texts.push(text);
        afterEach(texts.length);
        const practice: StoredPractice = { id, text, title: '', version: 1, savedAt: 0, demo: false };
        return { ok: true, value: practice };
      },
    },
    async () => {
      state.reloads += 1;
    },
  );
  return { model, texts, state };
}

describe('files that become practices', () => {
  test('are saved one after the other, and counted on the way', async () => {
    const seen: unknown[] = [];
    const { model, texts, state } = onServer(() => seen.push(model.going.value));
    await model.take([file('one'), file('two'), file('three')]);
    expect(texts).toEqual(['# one\n', '# two\n', '# three\n']);
    expect(seen).toEqual([
      { done: 0, of: 3 },
      { done: 1, of: 3 },
      { done: 2, of: 3 },
    ]);
    expect([model.going.value, model.said.value, state.reloads]).toEqual([null, '3 practices saved from 3 files.', 1]);
  });

  test('can be stopped: what is saved stays, the rest is not read', async () => {
    const { model, texts } = onServer((count) => {
      if (count === 2) model.stop();
    });
    await model.take([file('one'), file('two'), file('three'), file('four')]);
    expect(texts).toHaveLength(2);
    expect(model.said.value).toBe('2 practices saved from 4 files. Stopped: 2 files are not read.');
    await model.take([file('five'), file('six')]);
    expect(texts).toHaveLength(4);
  });

  test('that cannot be saved are named with the reason, and the others go on', async () => {
    const { model, texts } = onServer();
    const broken: ChosenFile = { name: 'gone.txt', text: () => Promise.reject(new Error('it was moved')) };
    await model.take([file('huge.txt', 'huge'), broken, file('empty.txt', ' \n'), file('good')]);
    expect(texts).toEqual(['# good\n']);
    expect(model.failed.value).toEqual([
      'huge.txt: This is too large for the server.',
      'gone.txt: cannot be read.',
      'empty.txt: there is nothing in it.',
    ]);
    expect(model.said.value).toBe('1 practice saved from 4 files.');
  });
});
