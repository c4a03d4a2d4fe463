import { z } from 'zod';
import type { Asked } from './from-screen.ts';
import type { Role } from './protocol.ts';

/**
 * What a paired device may do, each more than the one before: a `screen` shows the board; a `coach` reads the rest,
 * runs the practice and takes times; an `owner` does everything.
 */
export const ACCESSES = ['screen', 'coach', 'owner'] as const;
export const accessSchema = z.enum(ACCESSES);
export type Access = z.infer<typeof accessSchema>;

/** What is needed for a route or a message; `anyone`: devices that are not paired as well. */
export type Needed = Access | 'anyone';

/** @param access null: of a device that is not paired */
export const mayUse = (access: Access | null, needed: Needed): boolean =>
  needed === 'anyone' || (access !== null && ACCESSES.indexOf(access) >= ACCESSES.indexOf(needed));

/** What is needed for each message of a socket. A socket of a device that is not paired is not let in at all. */
export const MESSAGES: Readonly<Record<Asked, Access>> = {
  sync: 'screen',
  hello: 'screen',
  status: 'screen',
  command: 'coach',
  mark: 'coach',
};

/** What is needed to open each page, and to say hello as one. */
export const PAGES: Readonly<Record<Role, Access>> = { wall: 'screen', deck: 'coach', desk: 'coach' };

/** What is needed for each route. The server does not start with one that is not here. HEAD is asked for as GET. */
export const ROUTES: Readonly<Record<string, Needed>> = {
  'GET /': 'anyone',
  'GET /pair': 'anyone',
  'GET /favicon.ico': 'anyone',
  'GET /assets/*': 'anyone',
  'GET /health': 'anyone',
  'GET /api/access': 'anyone',
  'POST /api/devices': 'anyone',

  // Pages send whoever may not open them to be paired.
  'GET /wall': 'anyone',
  'GET /deck': 'anyone',
  'GET /desk': 'anyone',

  'GET /api/sheets/:hash': 'screen',
  'DELETE /api/access': 'screen',

  'GET /api/pool': 'coach',
  'GET /api/squad': 'coach',
  'GET /api/squad.csv': 'coach',
  'GET /api/squad/before': 'coach',
  'GET /api/squad/absences': 'coach',
  'PUT /api/squad/absences': 'coach',
  'GET /api/squad/swimmers/:id': 'coach',
  'POST /api/preview': 'coach',
  'POST /api/preview/squad': 'coach',
  'POST /api/preview/lanes': 'coach',
  'GET /api/practices': 'coach',
  'GET /api/practices/search': 'coach',
  'GET /api/practices/:id': 'coach',
  'GET /api/practices/:id/versions': 'coach',
  'GET /api/plan': 'coach',
  'GET /api/demo': 'coach',
  'POST /api/runs': 'coach',
  'DELETE /api/runs/live': 'coach',
  'GET /api/runs': 'coach',
  'GET /api/runs/:id/results': 'coach',
  'GET /api/runs/:id/results.csv': 'coach',
  'GET /api/runs/:id/lines': 'coach',
  'GET /api/runs/:id/marks': 'coach',
  'GET /api/runs/:id/departures': 'coach',
  'PUT /api/runs/:id/loads/:set/:swimmer': 'coach',
  'GET /api/history/sets': 'coach',
  'GET /api/history/set': 'coach',
  'GET /api/history/weeks': 'coach',
  'POST /api/walls/:device/identify': 'coach',

  'PUT /api/pool': 'owner',
  'PUT /api/squad': 'owner',
  'GET /api/squad/privacy': 'owner',
  'PUT /api/squad/privacy': 'owner',
  'GET /api/squad/older': 'owner',
  'DELETE /api/squad/older': 'owner',
  'GET /api/squad/former': 'owner',
  'GET /api/squad/swimmers/:id/export': 'owner',
  'GET /api/squad/swimmers/:id/stored': 'owner',
  'DELETE /api/squad/swimmers/:id/stored': 'owner',
  'PUT /api/squad/lanes': 'owner',
  'POST /api/squad/undo': 'owner',
  'PUT /api/squad/swimmers/:id': 'owner',
  'DELETE /api/squad/swimmers/:id': 'owner',
  'PUT /api/practices/:id': 'owner',
  'DELETE /api/practices/:id': 'owner',
  'POST /api/practices/:id/restore': 'owner',
  'PUT /api/plan/:day': 'owner',
  'POST /api/plan/copy': 'owner',
  'PUT /api/runs/:id/references/:set/:swimmer/:offer': 'owner',
  'DELETE /api/runs/:id/references/:set/:swimmer/:offer': 'owner',
  'POST /api/demo': 'owner',
  'DELETE /api/demo': 'owner',
  'POST /api/demo/restore': 'owner',
  'POST /api/backup': 'owner',
  'PUT /api/walls/:device': 'owner',
  'DELETE /api/walls/:device': 'owner',
  'GET /api/devices': 'owner',
  'DELETE /api/devices/:id': 'owner',
  'POST /api/pairing': 'owner',
  'DELETE /api/pairing': 'owner',
};
