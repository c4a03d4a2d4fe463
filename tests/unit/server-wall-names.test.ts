import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { wallLabels } from '../../server/running/labels.ts';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { type HelloAnswer, type Labels, labelsSchema, liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { privacySchema, type WallNames } from '../../shared-types/wire/privacy.ts';
import { type RunningServer, runServer, withRun } from '../fixtures/running-server.ts';

const setNames = (server: RunningServer, names: WallNames) =>
  server.ask('PUT', '/api/squad/privacy', { body: { names, keepMonths: null } });

const labelsIn = (answer: HelloAnswer): Labels => (answer.ok ? answer.live.labels : {});

const lastLabels = (told: readonly unknown[]): Labels => liveRunSchema.parse(told.at(-1)).labels;

describe('names on walls', () => {
  test('are short ones until the coach chooses others', async () => {
    const server = await runServer();
    expect(privacySchema.parse((await server.ask('GET', '/api/squad/privacy')).body)).toEqual({
      names: 'first',
      keepMonths: null,
    });
    await withRun(server);
    expect(Object.values(labelsIn(await server.screen('wall').hello()))).toContain('Ines');
  });

  test('change at once on walls that are on; decks and desks go on as before', async () => {
    const server = await runServer();
    await withRun(server);
    const [wall, deck, desk] = [server.screen('wall'), server.screen('deck'), server.screen('desk')];
    const [, deckLabels, deskLabels] = [await wall.hello(), labelsIn(await deck.hello()), labelsIn(await desk.hello())];
    await setNames(server, 'none');
    await expect.poll(() => wall.all('run').length).toBe(1);
    expect(lastLabels(wall.all('run'))).toEqual({});
    await setNames(server, 'initials');
    await expect.poll(() => wall.all('run').length).toBe(2);
    expect(Object.values(lastLabels(wall.all('run')))).toContain('IV');
    await setNames(server, 'full');
    await expect.poll(() => wall.all('run').length).toBe(3);
    expect(lastLabels(wall.all('run'))).toEqual(deskLabels);
    await expect.poll(() => deck.all('run').length).toBe(3);
    expect(lastLabels(deck.all('run'))).toEqual(deckLabels);
    expect(lastLabels(desk.all('run'))).toEqual(deskLabels);
  });

  test('are still those after a restart, and a pool that is saved keeps them', async () => {
    const server = await runServer();
    await withRun(server);
    await setNames(server, 'none');
    await server.ask('PUT', '/api/pool', { body: (await server.ask('GET', '/api/pool')).body });
    await server.farwall.close();
    const again = await runServer({ folder: server.folder });
    expect(labelsIn(await again.screen('wall').hello())).toEqual({});
  });

  test('of another kind are refused', async () => {
    const server = await runServer();
    const refused = await server.ask('PUT', '/api/squad/privacy', { body: { names: 'nick', keepMonths: null } });
    expect(refused.status).toBe(400);
  });
});

describe('initials', () => {
  const initialsOf = (...names: string[]): string[] => {
    const full = labelsSchema.parse(Object.fromEntries(names.map((name) => [swimmerIdSchema.parse(randomId()), name])));
    return Object.values(wallLabels('initials', { short: {}, full }));
  };

  test('are of the first and the last name, and of one name its first letter', () => {
    expect(initialsOf('Ada Vint', 'Bo Ann Tarn', 'Cher')).toEqual(['AV', 'BT', 'C']);
  });

  test('are whole letters with what is set on them (UAX #29, extended grapheme clusters)', () => {
    expect(initialsOf('किरण राव', '👩🏽‍🚀 Vexil')).toEqual(['किरा', '👩🏽‍🚀V']);
  });

  test('that are alike get a letter or two of the last name, never more', () => {
    expect(initialsOf('Ada Vint', 'Alf Volk', 'Bo Tarn')).toEqual(['AVi', 'AVo', 'BT']);
    expect(initialsOf('Ada Vint', 'Ada Vint')).toEqual(['AV', 'AV']);
  });
});
