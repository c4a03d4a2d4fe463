import { describe, expect, test } from 'vitest';
import { createPrivacy } from '../../client/desk/privacy-model.ts';
import { deleteQuestion, mentionWords, olderWords } from '../../client/desk/privacy-words.ts';
import { createQuestions } from '../../client/desk/questions.ts';
import { leftOutWords } from '../../client/desk/squad-preview-words.ts';
import { instant, practiceIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type Older, type Privacy, type StoredOf, USUAL_PRIVACY } from '../../shared-types/wire/privacy.ts';

const FACE = { timezone: 'UTC', trimMs: 0 };
const ADA = swimmerIdSchema.parse('a'.repeat(32));
const BEFORE = instant(Date.UTC(2026, 0, 15));
const OLDER: Older = { before: BEFORE, practices: 3, times: 412, oldest: instant(0) };
const NOTHING_OLDER: Older = { before: BEFORE, practices: 0, times: 0, oldest: null };
const STORED: StoredOf = { name: 'Ada Vint', references: 2, practices: 31, times: 1, loads: 0, mentions: [] };
const REFUSED = { ok: false, code: 'still-running', message: 'A practice is under way.', fix: 'Finish it.' } as const;

/** A page on a server, with somebody who answers its questions. */
function onDesk({ answers = true, older = OLDER, isRefused = false } = {}) {
  const asked: string[] = [];
  const done: string[] = [];
  const state = { privacy: USUAL_PRIVACY };
  const questions = createQuestions();
  questions.open.subscribe((question) => {
    if (!question) return;
    asked.push(question.title);
    queueMicrotask(() => questions.answer(answers));
  });
  const value = <T>(what: string, answer: T) => {
    done.push(what);
    return isRefused && what.startsWith('delete') ? REFUSED : ({ ok: true, value: answer } as const);
  };
  const model = createPrivacy({
    server: {
      privacy: async () => ({ ok: true, value: state.privacy }),
      savePrivacy: async (next: Privacy) => {
        state.privacy = next;
        return value('save', next);
      },
      older: async () => ({ ok: true, value: older }),
      deleteOlder: async (months) => value(`delete older than ${months}`, older),
      former: async () => ({ ok: true, value: { swimmers: [{ id: ADA, name: 'Ada Vint', last: BEFORE }] } }),
      storedOf: async () => ({ ok: true, value: STORED }),
      deleteForGood: async () => value('delete the swimmer', STORED),
    },
    questions,
    isOwners: () => true,
    face: () => FACE,
    deleted: () => void done.push('forget'),
  });
  return { model, asked, done, state };
}

describe('privacy on the desk', () => {
  test('saves what walls show without a question', async () => {
    const { model, asked, done } = onDesk();
    await model.reload();
    await model.save({ names: 'none', keepMonths: null });
    expect([asked, done, model.privacy.value?.names, model.done.value]).toEqual([[], ['save'], 'none', 'Saved.']);
  });

  test('asks before less is kept, tells how much would go, and deletes it then', async () => {
    const { model, asked, done } = onDesk();
    await model.save({ names: 'first', keepMonths: 12 });
    expect(asked).toEqual(['Keep what was swum for 12 months only?']);
    expect(done).toEqual(['save', 'delete older than 12']);
    expect(model.done.value).toBe('Saved. Deleted: 3 practices with 412 times, put on the wall before 15 Jan 2026.');
  });

  test('changes nothing where the coach would rather not', async () => {
    const { model, done } = onDesk({ answers: false });
    await model.save({ names: 'none', keepMonths: 12 });
    await model.deleteOlder();
    expect(await model.deleteForGood(ADA)).toBe(false);
    expect([done, model.gone.value]).toEqual([[], null]);
  });

  test('asks nothing where nothing is older, or more is to be kept than before', async () => {
    const { model, asked, state } = onDesk({ older: NOTHING_OLDER });
    await model.save({ names: 'first', keepMonths: 12 });
    await model.save({ names: 'first', keepMonths: null });
    expect([asked, state.privacy.keepMonths]).toEqual([[], null]);
  });

  test('deletes what is older at a press, once it was told', async () => {
    const { model, asked, done, state } = onDesk();
    state.privacy = { names: 'first', keepMonths: 24 };
    await model.reload();
    await model.deleteOlder();
    expect([asked, done]).toEqual([['Delete 3 practices for good?'], ['delete older than 24']]);
  });

  test('deletes a swimmer for good, and has the rest of the desk forget them', async () => {
    const { model, asked, done } = onDesk();
    await model.lookForFormer();
    expect(await model.deleteForGood(ADA)).toBe(true);
    expect([asked, done]).toEqual([['Delete Ada Vint for good?'], ['delete the swimmer', 'forget']]);
    expect(model.gone.value).toEqual({ words: 'Ada Vint is deleted for good.', mentions: '' });
    expect(model.former.value).toEqual([]);
  });

  test('says why it could not be, and forgets nobody', async () => {
    const { model, done } = onDesk({ isRefused: true });
    expect(await model.deleteForGood(ADA)).toBe(false);
    expect(model.problem.value).toEqual({ message: 'A practice is under way.', fix: 'Finish it.' });
    expect(done).toEqual(['delete the swimmer']);
  });
});

describe('the words of privacy', () => {
  test('say what goes with a swimmer, and that it does not come back', () => {
    const { body } = deleteQuestion(STORED);
    expect(body).toContain('2 reference times, 1 time taken, the name in 31 practices');
    expect(body).toContain('There is no undo.');
    expect(deleteQuestion({ ...STORED, references: 0, practices: 0, times: 0 }).body).toContain('This goes: the name.');
  });

  test('name the practices that a coach has to mend, and those of which only older versions have the name', () => {
    const practice = practiceIdSchema.parse('1'.repeat(32));
    expect(
      mentionWords([
        { practice, title: 'Thursday', isInLibrary: true },
        { practice, title: '', isInLibrary: false },
      ]),
    ).toBe(
      'These practices have a word of the name in their text, which stays until you mend it: “Thursday”. Only in an older version, or deleted: “Untitled practice”.',
    );
  });

  test('name no more than some where many texts have a word of the name', () => {
    const practice = practiceIdSchema.parse('1'.repeat(32));
    const mentions = Array.from({ length: 11 }, (_, place) => ({ practice, title: `No ${place}`, isInLibrary: true }));
    expect(mentionWords(mentions)).toMatch(/“No 7” and 3 more\.$/);
    expect(mentionWords([])).toBe('');
  });

  test('count what is older, and what of a file is left out', () => {
    expect(olderWords({ ...OLDER, practices: 1, times: 0 }, FACE)).toBe(
      '1 practice without times, put on the wall before 15 Jan 2026',
    );
    const preview = { goodRows: 1, badRows: 0, repeatedLines: [], problems: [], canBeLoaded: true, swimmers: [] };
    expect(leftOutWords({ ...preview, leftOut: [] })).toBe('');
    expect(leftOutWords({ ...preview, leftOut: ['born'] })).toBe(
      '1 column is not loaded: “born”. Farwall keeps no birth dates and no ages.',
    );
  });
});
