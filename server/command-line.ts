import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { type ParseArgsConfig, parseArgs } from 'node:util';
import type { Squad } from '../shared-types/squad.ts';
import { problemText, readSquadCsv } from './planning/squad-csv.ts';
import { onOneLine } from './planning/text-columns.ts';

/** What the commands that print (sheet, lanes) have in common. */

/** Something the caller has to mend; its message is what is printed on standard error. */
export class CommandError extends Error {}

/** Node's `parseArgs`, with the caller's mistakes as {@link CommandError}. */
export function parseCommand<const T extends ParseArgsConfig>(config: T): ReturnType<typeof parseArgs<T>> {
  try {
    return parseArgs(config);
  } catch (error) {
    throw new CommandError(error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error));
  }
}

/** A whole number from 1 to `most`, or null. */
export function wholeNumber(text: string, most: number): number | null {
  const number = Number(text);
  return /^\d+$/.test(text) && number >= 1 && number <= most ? number : null;
}

/** Reads a file as UTF-8. @throws CommandError when it cannot be read or is not text */
export function readTextFile(file: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code === 'ENOENT') throw new CommandError(`${file}: there is no such file`);
    if (code === 'EISDIR') throw new CommandError(`${file}: this is a folder, not a file`);
    if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') {
      throw new CommandError(`${file}: this is not UTF-8 text: save it as UTF-8`);
    }
    throw new CommandError(`${file}: cannot be read (${code || String(error)})`);
  }
}

/** Reads a squad from a CSV file; columns that are not read are said on standard error. @throws CommandError naming file, line and column of every row that cannot be read */
export function readSquadFile(file: string): Squad {
  const { squad, problems, leftOut } = readSquadCsv(readTextFile(file), () => randomBytes(16).toString('hex'));
  for (const column of leftOut) {
    process.stderr.write(
      `${file}:1: info squad: the column "${onOneLine(column)}" is not read: no birth dates or ages are needed\n`,
    );
  }
  if (problems.length === 0) return squad;
  throw new CommandError(
    problems
      .map((problem) => `${file}:${problem.line}:${problem.column}: error squad: ${onOneLine(problemText(problem))}`)
      .join('\n'),
  );
}

/** Runs a command: prints what it returns and sets the exit status, 1 with the message of a {@link CommandError}. */
export async function runCommand(command: (args: string[]) => string | Promise<string>): Promise<void> {
  // A reader that has seen enough (`| head`) closes the pipe: that is no error.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
  try {
    process.stdout.write(await command(process.argv.slice(2)));
  } catch (error) {
    if (!(error instanceof CommandError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 1;
  }
}
