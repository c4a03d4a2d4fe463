import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { mayUse, type Needed, PAGES } from '../../shared-types/wire/access.ts';
import { failure } from '../failure.ts';
import { PAGE_NAMES } from '../pages.ts';
import { sendFailure } from './answers.ts';
import type { Devices } from './devices.ts';
import type { WebParts } from './web-parts.ts';

interface Page {
  readonly path: string;
  readonly file: string;
  /** What is needed to open it. */
  readonly needed: Needed;
}

const ALL_PAGES: readonly Page[] = [
  { path: '/', file: 'index.html', needed: 'anyone' },
  { path: '/pair', file: 'pair/index.html', needed: 'anyone' },
  ...PAGE_NAMES.map((name) => ({ path: `/${name}`, file: `${name}/index.html`, needed: PAGES[name] })),
];

const NOT_BUILT = failure('pages-not-built', 'The pages have not been built.', {
  fix: 'Start the server once without --no-build.',
});

/** Whoever may not open a page is sent to be paired, and comes back to it then. */
function opened(page: Page, request: FastifyRequest, reply: FastifyReply, devices: Devices, folder: string) {
  const { device, headers } = request;
  if (!mayUse(device?.access ?? null, page.needed)) return reply.redirect(`/pair?to=${page.path}`);
  if (device) void reply.header('set-cookie', devices.renewed(headers.cookie));
  return reply.sendFile(page.file, folder, { cacheControl: false, etag: false, lastModified: false });
}

/** The pages and what they load. Pages are never kept by a browser, what they load (named by content) for ever. */
export async function pageRoutes(app: FastifyInstance, { pagesFolder, devices }: WebParts): Promise<void> {
  // Browsers ask for it unasked.
  app.get('/favicon.ico', (_request, reply) => reply.code(204).send());
  if (pagesFolder === null) {
    for (const { path } of ALL_PAGES) app.get(path, (_request, reply) => sendFailure(reply, NOT_BUILT));
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
  for (const page of ALL_PAGES) {
    app.get(page.path, (request, reply) => opened(page, request, reply, devices, pagesFolder));
  }
}
