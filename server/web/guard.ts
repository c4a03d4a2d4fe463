import type { FastifyInstance, FastifyRequest } from 'fastify';
import { type Access, mayUse, type Needed, ROUTES } from '../../shared-types/wire/access.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { LocalKeeper } from '../local-key.ts';
import type { StoredDevice } from '../store/device-store.ts';
import { sendFailure } from './answers.ts';
import type { DoorKeeper } from './hosts.ts';
import { limitRequests } from './request-limits.ts';
import type { WebParts } from './web-parts.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** Whose request it is; null: of a device that is not paired. */
    device: StoredDevice | null;
  }
}

export const NOT_PAIRED = failure('not-paired', 'This device is not paired with this server.', {
  fix: 'Open /pair on it and type the code that the desk shows under Today.',
});

const WHO_MAY: Readonly<Record<Access, string>> = {
  screen: 'a paired screen',
  coach: 'a device that is paired as a coach',
  owner: 'a device that is paired as an owner',
};

export const notAllowed = (needed: Access): KnownFailure =>
  failure('not-allowed', `Only ${WHO_MAY[needed]} may do this.`, {
    fix: 'Have an owner show another code on the desk, under Today, and pair this device anew.',
  });

const READING_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

export const isReading = (method: string): boolean => READING_METHODS.has(method);

/** What is needed for the route; undefined when there is none. */
const neededFor = ({ method, routeOptions: { url } }: FastifyRequest): Needed | undefined =>
  url === undefined ? undefined : ROUTES[`${method === 'HEAD' ? 'GET' : method} ${url}`];

/** A route without a rule is a bug. */
export function demandRules(app: FastifyInstance): void {
  app.addHook('onRoute', ({ method, url }) => {
    for (const each of [method].flat()) {
      if (each !== 'HEAD' && ROUTES[`${each} ${url}`] === undefined) throw new Error(`no rule for ${each} ${url}`);
    }
  });
}

/** The one route that a command on the server's own machine asks for. */
const isBackup = ({ method, routeOptions: { url } }: FastifyRequest): boolean =>
  method === 'POST' && url === '/api/backup';

/** Why a request of this device is refused. */
function refusalOf(request: FastifyRequest, local: LocalKeeper | null): KnownFailure | null {
  const needed = neededFor(request);
  const { device } = request;
  if (isBackup(request) && local?.isKey(request.headers.authorization)) return null;
  if (needed === undefined || mayUse(device?.access ?? null, needed)) return null;
  return device === null || needed === 'anyone' ? NOT_PAIRED : notAllowed(needed);
}

/** Refuses what calls the server by a name that is not its own: first of all, since answers repeat that name. */
export function guardHost(app: FastifyInstance, door: DoorKeeper): void {
  app.addHook('onRequest', async ({ headers }, reply) => {
    const refused = door.wrongHost(headers);
    if (refused) return sendFailure(reply, refused);
    return undefined;
  });
}

interface Guards extends Pick<WebParts, 'devices' | 'local' | 'limits'> {
  readonly door: DoorKeeper;
}

/** Refuses what pages from elsewhere ask for, and who may not. */
export function guardRoutes(app: FastifyInstance, { door, devices, local, limits }: Guards): void {
  demandRules(app);
  app.decorateRequest('device', null);
  app.addHook('onRequest', async (request, reply) => {
    request.device = devices.deviceOf(request.headers.cookie);
    // Nothing of swimmers is to lie in a browser's cache; routes that know better say so themselves.
    void reply.header('cache-control', 'no-store');
  });
  limitRequests(app, limits);
  app.addHook('onRequest', async (request, reply) => {
    const { headers, method } = request;
    const refused = door.wrongOrigin(headers, isReading(method) ? 'reads' : 'changes') ?? refusalOf(request, local);
    if (refused) return sendFailure(reply, refused);
    return undefined;
  });
}
