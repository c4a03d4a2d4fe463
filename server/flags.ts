import { parseArgs } from 'node:util';
import type { TlsFiles } from './tls.ts';

export interface Options {
  /** 0: any free port. */
  readonly port: number;
  readonly host: string;
  readonly dataFolder: string;
  /** IANA name. */
  readonly timezone: string;
  /** Names, besides the machine's own, that screens may call the server by. */
  readonly allowedHosts: readonly string[];
  readonly tls: TlsFiles | null;
  readonly build: boolean;
  /** Only faults are logged. */
  readonly quiet: boolean;
}

export type Flags =
  | { readonly kind: 'options'; readonly options: Options }
  | { readonly kind: 'help'; readonly text: string }
  /** One sentence, with the cure. */
  | { readonly kind: 'problem'; readonly message: string };

const HELP = `Farwall: the board on the far wall of a swimming pool.

npm start -- [flags]

  --port PORT         the port to listen on (4050)
  --host HOST         the address to listen on (0.0.0.0: every device on the network; 127.0.0.1: this machine only)
  --data FOLDER       the folder to keep everything in (./data)
  --timezone ZONE     the time zone of the pool's clock, e.g. Europe/Lisbon (this machine's)
  --allow-host NAME   another name that screens may call this server by; may be given more than once
  --cert FILE         a certificate, PEM; with --key the pages are served by https
  --key FILE          the certificate's key, PEM, without a password
  --no-build          serve the pages as they were last built
  --quiet             log faults only
  --help              this text

FARWALL_PORT, FARWALL_HOST, FARWALL_DATA, FARWALL_TIMEZONE, FARWALL_CERT, FARWALL_KEY and FARWALL_LOG=quiet in the
environment mean the same; a flag goes first.
`;

const FLAGS = {
  port: { type: 'string' },
  host: { type: 'string' },
  data: { type: 'string' },
  timezone: { type: 'string' },
  cert: { type: 'string' },
  key: { type: 'string' },
  'allow-host': { type: 'string', multiple: true },
  'no-build': { type: 'boolean' },
  quiet: { type: 'boolean' },
  help: { type: 'boolean' },
} as const;

const problem = (message: string): Flags => ({ kind: 'problem', message });

function isTimezone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).format(0) !== '';
  } catch {
    return false;
  }
}

/** A port as written, or null; 0 stands for any free one. */
function portOf(text: string): number | null {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : Number.NaN;
  return port <= 65_535 ? port : null;
}

function parse(args: readonly string[]) {
  try {
    return { ok: true as const, values: parseArgs({ args: [...args], options: FLAGS, strict: true }).values };
  } catch (error) {
    const found = error instanceof Error ? error.message.split(/\. |\n/)[0] : String(error);
    return { ok: false as const, message: `${found?.replace(/\.$/, '')}; --help lists the flags.` };
  }
}

/** Reads the flags, then the environment, then what goes without saying. */
export function readFlags(args: readonly string[], environment: Readonly<Record<string, string | undefined>>): Flags {
  const parsed = parse(args);
  if (!parsed.ok) return problem(parsed.message);
  const { values } = parsed;
  if (values.help) return { kind: 'help', text: HELP };
  const from = (flag: string | undefined, variable: string): string | undefined =>
    flag ?? (environment[variable] || undefined);
  const portText = from(values.port, 'FARWALL_PORT') ?? '4050';
  const port = portOf(portText);
  if (port === null) return problem(`"${portText}" is not a port; write a whole number from 0 to 65535, e.g. 4050.`);
  const timezone = from(values.timezone, 'FARWALL_TIMEZONE') ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  if (!isTimezone(timezone)) {
    return problem(`"${timezone}" is not a time zone; write an IANA name such as Europe/Lisbon.`);
  }
  const host = from(values.host, 'FARWALL_HOST') ?? '0.0.0.0';
  const dataFolder = from(values.data, 'FARWALL_DATA') ?? 'data';
  if (host === '' || dataFolder === '') return problem('--host and --data need a value; --help lists the flags.');
  const logged = environment.FARWALL_LOG || 'all';
  if (logged !== 'all' && logged !== 'quiet') {
    return problem(`"${logged}" is not a way to log; FARWALL_LOG is quiet or all.`);
  }
  const quiet = values.quiet ?? logged === 'quiet';
  const cert = from(values.cert, 'FARWALL_CERT');
  const key = from(values.key, 'FARWALL_KEY');
  if ((cert === undefined) !== (key === undefined)) {
    return problem(`--${cert ? 'cert' : 'key'} needs --${cert ? 'key' : 'cert'} as well; name both files, or neither.`);
  }
  const tls = cert !== undefined && key !== undefined ? { cert, key } : null;
  const allowedHosts = values['allow-host'] ?? [];
  const build = !values['no-build'];
  return { kind: 'options', options: { port, host, dataFolder, timezone, allowedHosts, tls, build, quiet } };
}
