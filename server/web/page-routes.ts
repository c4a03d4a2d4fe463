import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { failure } from '../failure.ts';
import { PAGE_NAMES } from '../pages.ts';
import { sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const PAGES: readonly (readonly [path: string, file: string])[] = [
  ['/', 'index.html'],
  ...PAGE_NAMES.map((name) => [`/${name}`, `${name}/index.html`] as const),
];

const NOT_BUILT = failure('pages-not-built', 'The pages have not been built.', {
  fix: 'Start the server once without --no-build.',
});

/** The pages and what they load. Pages are never kept by a browser, what they load (named by content) for ever. */
export async function pageRoutes(app: FastifyInstance, { pagesFolder }: WebParts): Promise<void> {
  // Browsers ask for it unasked.
  app.get('/favicon.ico', (_request, reply) => reply.code(204).send());
  if (pagesFolder === null) {
    for (const [path] of PAGES) app.get(path, (_request, reply) => sendFailure(reply, NOT_BUILT));
    return;
  }
  await app.register(fastifyStatic, {
    root: join(pagesFolder, 'assets'),
    prefix: '/assets/',
    index: false,
    // The build leaves it packed beside each file.
    preCompressed: true,
    immutable: true,
    maxAge: '365d',
  });
  for (const [path, file] of PAGES) {
    app.get(path, (_request, reply) => {
      void reply.header('cache-control', 'no-store');
      return reply.sendFile(file, pagesFolder, { cacheControl: false, etag: false, lastModified: false });
    });
  }
}
