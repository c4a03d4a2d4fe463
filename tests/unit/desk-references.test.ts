import { expect, test } from 'vitest';
import type { OfferedResult, Outcome } from '../../client/desk/desk-server.ts';
import { createReferences } from '../../client/desk/references-model.ts';
import { ms, runIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { ReferencesAnswer } from '../../shared-types/wire/results.ts';

const result: OfferedResult = {
  run: runIdSchema.parse('1'.repeat(32)),
  set: 0,
  swimmer: swimmerIdSchema.parse('2'.repeat(32)),
  offer: {
    id: 'test-100-free-swim',
    what: '100 free SCM test',
    time: '58.4',
    timeMs: ms(58_430),
    notes: ['by hand'],
    before: null,
    isTaken: false,
  },
};

function onDesk(answer: Outcome<ReferencesAnswer>) {
  const done: string[] = [];
  const asked = (what: string) => async (): Promise<Outcome<ReferencesAnswer>> => {
    done.push(what);
    return answer;
  };
  const model = createReferences({ takeOver: asked('take over'), undoTakeOver: asked('undo') }, async () => {
    done.push('ask again');
  });
  return { model, done };
}

test('after a result was taken over, or that undone, the page asks for what has changed', async () => {
  const { model, done } = onDesk({ ok: true, value: { isTaken: true } });
  await model.takeOver(result);
  await model.undo(result);
  expect(done).toEqual(['take over', 'ask again', 'undo', 'ask again']);
  expect(model.problem.value).toBe(null);
});

test('a refusal is said at its set, with what is so by now', async () => {
  const { model, done } = onDesk({ ok: false, code: 'not-on-offer', message: 'The time is another one by now: 58.6.' });
  await model.takeOver(result);
  expect(done).toEqual(['take over', 'ask again']);
  expect(model.problem.value).toEqual({
    run: result.run,
    set: 0,
    message: 'The time is another one by now: 58.6.',
  });
});

test('a second press while one is on its way does nothing', async () => {
  const { model, done } = onDesk({ ok: true, value: { isTaken: true } });
  const first = model.takeOver(result);
  expect(model.busy.value).toBe(true);
  await model.undo(result);
  await first;
  expect(done).toEqual(['take over', 'ask again']);
  expect(model.busy.value).toBe(false);
});
