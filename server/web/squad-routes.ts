import type { FastifyInstance } from 'fastify';
import { MOST_SWIMMERS, type Squad } from '../../shared-types/squad.ts';
import {
  type SquadBefore,
  type SquadPreview,
  type SquadProblem,
  squadPreviewRequestSchema,
  squadUndoSchema,
  squadUploadSchema,
} from '../../shared-types/wire/squad.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { squadChanges } from '../planning/squad-changes.ts';
import { readSquadCsv, type SquadReading } from '../planning/squad-csv.ts';
import { squadCsv } from '../planning/squad-export.ts';
import { importedSquad } from '../planning/squad-import.ts';
import { poolDay } from '../running/present-squad.ts';
import { absenceRoutes } from './absence-routes.ts';
import { read, sendFailure } from './answers.ts';
import { laneRoutes } from './lane-routes.ts';
import { privacyRoutes } from './privacy-routes.ts';
import { swimmerRoutes } from './swimmer-routes.ts';
import type { WebParts } from './web-parts.ts';

const TOO_MANY_CURE = 'Load the swimmers of one squad only.';
const NOTHING_TO_UNDO = failure('nothing-to-undo', 'There is no squad to put back.');
const LOADED_IN_BETWEEN = failure('loaded-in-between', 'Somebody loaded another squad in between.', {
  fix: 'Look at what is there now.',
});

/** The desk's questions about the squad: what a file would change, loading it, and taking that back. */
export function squadRoutes(app: FastifyInstance, parts: WebParts): void {
  app.get('/api/squad', () => parts.store.squad.squad());
  app.get('/api/squad.csv', (_request, reply) =>
    reply
      .type('text/csv; charset=utf-8')
      .header('content-disposition', `attachment; filename="squad-${poolDay(parts)}.csv"`)
      .send(squadCsv(parts.store.squad.squad())),
  );
  previewRoute(app, parts);
  loadRoute(app, parts);
  undoRoutes(app, parts);
  laneRoutes(app, parts);
  absenceRoutes(app, parts);
  swimmerRoutes(app, parts);
  privacyRoutes(app, parts);
}

const toldProblems = ({ problems }: SquadReading): SquadProblem[] =>
  problems.map(({ text, ...place }) => ({ ...place, message: text }));

const tooManyWords = ({ swimmers }: Squad): string =>
  `These would be ${swimmers.length} swimmers, and a squad holds ${MOST_SWIMMERS}.`;

/** Also with its bad rows left out a file must leave something to load. */
const isLoadable = ({ rows, rowsAreClear }: SquadReading): boolean =>
  rowsAreClear && rows.some(({ state }) => state !== 'bad');

function previewOf(reading: SquadReading, before: Squad): SquadPreview {
  const { rows, rowsAreClear } = reading;
  const bad = rows.filter(({ state }) => state === 'bad');
  const after = importedSquad(reading, before);
  const isTooMany = after.swimmers.length > MOST_SWIMMERS;
  return {
    goodRows: rows.length - bad.length,
    badRows: bad.length,
    repeatedLines: rows.flatMap(({ state, line }) => (state === 'repeated' ? [line] : [])),
    problems: [
      ...(isTooMany ? [{ line: 1, column: 1, message: tooManyWords(after), fix: TOO_MANY_CURE }] : []),
      ...toldProblems(reading),
    ],
    leftOut: [...reading.leftOut],
    canBeLoaded: isLoadable(reading) && !isTooMany,
    swimmers: rowsAreClear ? squadChanges(before, after, rows) : [],
  };
}

function previewRoute(app: FastifyInstance, { store, newId }: WebParts): void {
  app.post('/api/preview/squad', (request, reply) => {
    const asked = read(squadPreviewRequestSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    return reply.send(previewOf(readSquadCsv(asked.value.csv, newId), store.squad.squad()));
  });
}

function refusalOf({ problems }: SquadReading, fileName: string): KnownFailure {
  const lines = new Set(problems.map(({ line }) => line)).size;
  const rows = lines === 1 ? 'A row' : `${lines} rows`;
  return failure('squad-has-errors', `${rows} of "${fileName}" cannot be read; nothing was changed.`, {
    fix: 'Correct the file and load it again.',
  });
}

function loadRoute(app: FastifyInstance, { store, keeper, clock, newId }: WebParts): void {
  app.put('/api/squad', (request, reply) => {
    const asked = read(squadUploadSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const { csv, fileName, leaveOutBadRows = false } = asked.value;
    const reading = readSquadCsv(csv, newId);
    const isTaken = reading.problems.length === 0 || (leaveOutBadRows && isLoadable(reading));
    if (!isTaken) return sendFailure(reply, refusalOf(reading, fileName), { problems: toldProblems(reading) });
    const squad = importedSquad(reading, store.squad.squad());
    if (squad.swimmers.length > MOST_SWIMMERS) {
      return sendFailure(reply, failure('squad-has-errors', tooManyWords(squad), { fix: TOO_MANY_CURE }));
    }
    const stored = store.squad.load(squad, { fileName, loadedAt: Math.round(clock.now()) });
    keeper.squadChanged(stored);
    return reply.send(stored);
  });
}

function undoRoutes(app: FastifyInstance, { store, keeper }: WebParts): void {
  app.get('/api/squad/before', (): SquadBefore => {
    const before = store.squad.beforeLoad();
    if (!before) return { before: null };
    const { fileName, loadedAt, squad } = before;
    return { before: { fileName, loadedAt, swimmers: squad.swimmers.length } };
  });

  app.post('/api/squad/undo', (request, reply) => {
    const asked = read(squadUndoSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const before = store.squad.beforeLoad();
    if (!before) return sendFailure(reply, NOTHING_TO_UNDO);
    if (before.loadedAt !== asked.value.loadedAt) return sendFailure(reply, LOADED_IN_BETWEEN);
    const stored = store.squad.undoLoad(before);
    keeper.squadChanged(stored);
    return reply.send(stored);
  });
}
