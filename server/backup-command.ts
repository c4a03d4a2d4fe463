import { request as httpRequest } from 'node:http';
import { request as httpsRequest } from 'node:https';
import { basename, join, resolve } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { json } from 'node:stream/consumers';
import { backupAnswerSchema } from '../shared-types/wire/desk.ts';
import { failureSchema } from '../shared-types/wire/from-server.ts';
import { CommandError, parseCommand } from './command-line.ts';
import { type LocalKey, readLocalKey } from './local-key.ts';
import { BACKUPS_KEPT, backupFolderOf } from './store/backup-folder.ts';
import { backupSourceOn } from './store/backup-source.ts';
import { Backups } from './store/backups.ts';
import { openToRead, pragmaOf, sizeOf } from './store/file-format.ts';
import { databaseFileOf } from './store/open-database.ts';
import { isBusy } from './store/store-problem.ts';
import { NOT_PAIRED } from './web/guard.ts';

const USAGE = `Makes a backup of the database, whole and checked. A running server is asked to make it.

npm run backup -- [flags]

  --data FOLDER   the folder the server keeps everything in (FARWALL_DATA, or ./data)
  --to FOLDER     where the backup goes (the folder "backups" in there); nothing is ever removed from a folder named so
  --port PORT     the port of the running server (FARWALL_PORT, or 4050)
  --host HOST     its address (FARWALL_HOST, or 127.0.0.1)
  --help          this text
`;

interface Request {
  readonly dataFolder: string;
  /** Null: the server's own folder of backups. */
  readonly to: string | null;
  readonly server: URL;
}

function readArguments(args: string[]): Request | 'help' {
  const { FARWALL_DATA, FARWALL_PORT, FARWALL_HOST } = process.env;
  const text = { type: 'string' } as const;
  const { values } = parseCommand({
    args,
    options: { data: text, to: text, port: text, host: text, help: { type: 'boolean' } },
  });
  if (values.help) return 'help';
  const host = values.host ?? (FARWALL_HOST || '127.0.0.1');
  const port = values.port ?? (FARWALL_PORT || '4050');
  return {
    dataFolder: resolve(values.data ?? (FARWALL_DATA || 'data')),
    to: values.to === undefined ? null : resolve(values.to),
    server: addressOf(host, port),
  };
}

/** @returns its address by http; by https it has the same */
function addressOf(host: string, port: string): URL {
  const name = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
  const address = URL.parse(`http://${name.includes(':') ? `[${name}]` : name}:${port}/api/backup`);
  if (!address) throw new CommandError(`"${host}" and "${port}" are not the address of a server: see --help`);
  return address;
}

/** The database, opened to be read; null when a running server has it. */
function openUnused(file: string): DatabaseSync | null {
  if (sizeOf(file) === 0) throw new CommandError(`there is no database "${file}": name its folder with --data`);
  let sqlite: DatabaseSync | undefined;
  try {
    sqlite = openToRead(file);
    pragmaOf(sqlite, 'user_version');
    return sqlite;
  } catch (error) {
    sqlite?.close();
    if (isBusy(error)) return null;
    throw new CommandError(`the database "${file}" cannot be read (${String(error)})`);
  }
}

/** Copies an open database into `folder`. @returns the copy's file */
async function copyOf(sqlite: DatabaseSync, folder: string, keep: number): Promise<string> {
  const nothing = (): void => {};
  const backups = new Backups({
    source: backupSourceOn(sqlite),
    folder,
    keep,
    wallMs: Date.now,
    mayTake: () => true,
    note: nothing,
    log: nothing,
  });
  const result = await backups.take();
  sqlite.close();
  if (result.kind === 'taken') return result.file;
  const why = result.kind === 'failed' ? result.why : 'it was given up';
  throw new CommandError(`no backup was made in "${folder}": ${why}`);
}

/** The answer to a POST with the key that the server has left beside its database. @throws (rejects) without an answer */
function postWithKey({ host, pathname }: URL, local: LocalKey | null): Promise<unknown> {
  const ca = local?.cert ?? undefined;
  const isSecure = ca !== undefined;
  const server = new URL(pathname, `${isSecure ? 'https' : 'http'}://${host}`);
  const headers = { origin: server.origin, authorization: `Bearer ${local?.key ?? ''}` };
  // This certificate is the server's, whatever names it is for and whoever vouches for it.
  const trusted = isSecure ? { ca, allowPartialTrustChain: true, checkServerIdentity: () => undefined } : {};
  return new Promise((resolve, reject) => {
    const asked = (isSecure ? httpsRequest : httpRequest)(server, { method: 'POST', headers, ...trusted }, (reply) => {
      json(reply).then(resolve, reject);
    });
    asked.on('error', reject);
    asked.end();
  });
}

/** Has the running server make a backup. @returns its file */
async function askServer({ server, dataFolder }: Request): Promise<string> {
  const file = databaseFileOf(dataFolder);
  const notTheOne = new CommandError(
    `the server at ${server.host} is not the one that uses "${file}": name the port of that one with --port`,
  );
  const body = await postWithKey(server, readLocalKey(dataFolder)).catch(() => null);
  if (body === null) {
    throw new CommandError(
      `"${file}" is in use, but no Farwall answers at ${server.host}: name the port of the one that uses it with --port`,
    );
  }
  const refused = failureSchema.safeParse(body);
  if (refused.success && refused.data.code === NOT_PAIRED.code) throw notTheOne;
  if (refused.success) throw new CommandError(`${refused.data.message} ${refused.data.fix ?? ''}`.trim());
  const answer = backupAnswerSchema.safeParse(body);
  const backup = answer.success ? join(backupFolderOf(dataFolder), basename(answer.data.name)) : '';
  if (sizeOf(backup) > 0) return backup;
  throw notTheOne;
}

async function makeBackup(request: Request): Promise<string> {
  const { dataFolder, to } = request;
  const unused = openUnused(databaseFileOf(dataFolder));
  if (unused) return copyOf(unused, to ?? backupFolderOf(dataFolder), to ? Number.POSITIVE_INFINITY : BACKUPS_KEPT);
  const made = await askServer(request);
  return to ? copyOf(openToRead(made), to, Number.POSITIVE_INFINITY) : made;
}

try {
  const request = readArguments(process.argv.slice(2));
  const text = request === 'help' ? USAGE : `${await makeBackup(request)}\n`;
  process.stdout.write(text);
} catch (error) {
  if (!(error instanceof CommandError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
