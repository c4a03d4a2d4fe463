import { basename } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { mayUse } from '../../shared-types/wire/access.ts';
import type { Alive, BackupAnswer, Health } from '../../shared-types/wire/desk.ts';
import { failure } from '../failure.ts';
import { sizeOf } from '../store/file-format.ts';
import { FARWALL_VERSION } from '../version.ts';
import { sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

function healthOf({ store, keeper, backups, clock, startedAt, screens }: WebParts): Health {
  const now = clock.now();
  const { run } = keeper;
  return {
    ok: true,
    version: FARWALL_VERSION,
    database: keeper.storing ? 'ok' : 'read-only',
    databaseBytes: sizeOf(store.file) + sizeOf(`${store.file}-wal`),
    lastBackup: backups.last,
    run: run ? { id: run.id, state: run.state, seq: run.seq, sheet: run.sheet } : null,
    screens: screens.reports().map(({ screen: { role, syncBoundMs }, reportedAt }) => {
      return { role, syncBoundMs, reportAgeMs: reportedAt === null ? null : Math.round(now - reportedAt) };
    }),
    uptimeMs: Math.round(now - startedAt),
  };
}

/** How the server is, and a backup by hand. */
export function healthRoutes(app: FastifyInstance, parts: WebParts): void {
  app.get('/health', ({ device }, reply) => {
    const alive: Alive = { ok: true, database: parts.keeper.storing ? 'ok' : 'read-only' };
    const told = mayUse(device?.access ?? null, 'coach') ? healthOf(parts) : alive;
    return reply.send(told);
  });

  app.post('/api/backup', async (_request, reply) => {
    const result = await parts.backups.take();
    switch (result.kind) {
      case 'taken': {
        const answer: BackupAnswer = { name: basename(result.file), at: result.at };
        return reply.send(answer);
      }
      case 'given-up':
        return sendFailure(
          reply,
          failure('still-running', 'A practice is running: no backup is made meanwhile.', {
            fix: 'One is made by itself when it is finished.',
          }),
        );
      case 'failed':
        return sendFailure(
          reply,
          failure('not-stored', 'The backup could not be made; the log of the server says why.', {
            fix: 'See whether the disk of the server is full.',
          }),
        );
    }
  });
}
