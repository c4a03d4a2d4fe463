import { createServer } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import type { Socket as NetSocket } from 'node:net';
import helmet from '@fastify/helmet';
import Fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import { type Changed, changedSchema } from '../../shared-types/wire/from-server.ts';
import { failure } from '../failure.ts';
import { sendFailure } from './answers.ts';
import { deskRoutes } from './desk-routes.ts';
import { deviceRoutes } from './device-routes.ts';
import { guardHost, guardRoutes, isReading } from './guard.ts';
import { DoorKeeper } from './hosts.ts';
import { MOST_BODY_BYTES } from './limits.ts';
import { pageRoutes } from './page-routes.ts';
import { runRoutes } from './run-routes.ts';
import { screenRoutes } from './screen-routes.ts';
import { limitConnections } from './socket-limits.ts';
import { attachSockets, type Sockets } from './sockets.ts';
import type { WebParts } from './web-parts.ts';

/** Our pages load scripts, styles and fonts from here and talk to here; nothing else, nobody frames them. */
async function securityHeaders(app: FastifyInstance, isSecure: boolean): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'"],
        // Browsers some years old do not take 'self' to mean the websocket as well.
        connectSrc: ["'self'", ({ headers }) => `${isSecure ? 'wss' : 'ws'}://${headers.host}`],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
      },
    },
    // Pools are served by plain http: nothing may send a browser to https.
    strictTransportSecurity: false,
    frameguard: { action: 'deny' },
    // With "no-referrer" browsers write `Origin: null` into what our own forms send.
    referrerPolicy: { policy: 'same-origin' },
    // Only means something on a secure origin; elsewhere browsers complain.
    crossOriginOpenerPolicy: false,
    originAgentCluster: false,
  });
}

const NOT_READABLE = failure(
  'bad-request',
  'The server cannot read this: it is not an address of a page or a question.',
);

/** What is not even HTTP gets the one answer in HTTP that there is for it. */
function answerNonsense(_error: unknown, socket: NetSocket): void {
  const body = JSON.stringify(NOT_READABLE);
  const head = ['HTTP/1.1 400 Bad Request', 'content-type: application/json', `content-length: ${body.length}`];
  if (socket.writable) socket.end([...head, 'connection: close', '', body].join('\r\n'));
  else socket.destroy();
}

/** A squad file over a bad radio is there within that. */
const REQUEST_WITHIN_MS = 30_000;

const statusOf = (error: unknown): number =>
  typeof error === 'object' && error !== null && 'statusCode' in error && typeof error.statusCode === 'number'
    ? error.statusCode
    : 500;

const isDatabaseError = (error: unknown): boolean =>
  typeof error === 'object' && error !== null && 'code' in error && error.code === 'ERR_SQLITE_ERROR';

const NOT_STORED = failure('not-stored', 'The server could not write this down, so it did not happen.', {
  fix: 'See whether the disk of the server is full.',
});

/** Whatever goes wrong, the answer has the one shape of failures. */
function answerFailures(app: FastifyInstance, log: (error: unknown) => void): void {
  app.setNotFoundHandler((_request, reply) => sendFailure(reply, failure('not-found', 'There is nothing here.')));
  app.setErrorHandler((error, _request, reply) => {
    switch (statusOf(error)) {
      case 400:
        return sendFailure(reply, failure('bad-request', 'The server cannot read this: it is not JSON.'));
      case 413:
        return sendFailure(reply, failure('too-large', 'This is too large for the server.'));
      case 415:
        return sendFailure(reply, failure('wrong-kind', 'The server takes JSON only.'));
      case 403:
      case 404:
        return sendFailure(reply, failure('not-found', 'There is nothing here.'));
      default:
        log(error);
        if (isDatabaseError(error)) return sendFailure(reply, NOT_STORED);
        return sendFailure(reply, failure('server-error', 'The server failed at this; its log says why.'));
    }
  });
}

/** `/api/practices/12ab` is of practices. */
const changedBy = ({ url }: FastifyRequest): Changed | null => {
  const what = changedSchema.shape.what.safeParse(/^\/api\/([a-z]+)/.exec(url)?.[1]);
  return what.success ? { what: what.data } : null;
};

/** What one desk has changed the others are told, by one rule for all routes, so that none can forget it. */
function tellOfChanges(app: FastifyInstance, sockets: Sockets): void {
  app.addHook('onResponse', async (request, { statusCode }) => {
    const changed = isReading(request.method) || statusCode >= 400 ? null : changedBy(request);
    if (changed) sockets.tellDesks(changed);
  });
}

/** The web server with its routes and sockets, ready to listen. */
export async function webServer(parts: WebParts): Promise<FastifyInstance> {
  const { secure } = parts;
  const app = Fastify({
    logger: false,
    bodyLimit: MOST_BODY_BYTES,
    forceCloseConnections: true,
    // Whoever takes longer to say what it wants holds a connection for nothing.
    requestTimeout: REQUEST_WITHIN_MS,
    // What is no address of ours at all is answered before there is a route.
    frameworkErrors: (_error, _request, reply) => void sendFailure(reply, NOT_READABLE),
    clientErrorHandler: answerNonsense,
    routerOptions: { ignoreTrailingSlash: true },
    serverFactory: (handler) => (secure ? createSecureServer(secure, handler) : createServer(handler)),
  });
  // A form of a foreign page can send text, but not JSON.
  app.removeContentTypeParser('text/plain');
  const door = new DoorKeeper(parts.allowedHosts);
  guardHost(app, door);
  await securityHeaders(app, secure !== null);
  limitConnections(app.server, parts.limits);
  guardRoutes(app, { ...parts, door });
  answerFailures(app, parts.log);
  const sockets = attachSockets(app.server, door, parts);
  tellOfChanges(app, sockets);
  deskRoutes(app, parts);
  runRoutes(app, parts);
  screenRoutes(app, parts);
  deviceRoutes(app, parts);
  await pageRoutes(app, parts);
  app.addHook('preClose', async () => {
    sockets.cutOff();
  });
  return app;
}
