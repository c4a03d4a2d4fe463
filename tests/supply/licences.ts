import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';

/** Names of licences are those of SPDX (https://spdx.org/licenses). */

const lockSchema = z.object({
  packages: z.record(z.string(), z.object({ dev: z.boolean().optional(), license: z.string().optional() })),
});

/** Older packages say it in other ways. */
const manifestSchema = z.object({
  license: z.string().optional(),
  licenses: z.array(z.object({ type: z.string() })).optional(),
});

/** As its own package.json has it. @returns null when it says none */
export function licenceOf(root: string, folder: string): string | null {
  const { license, licenses } = manifestSchema.parse(
    JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8')),
  );
  return license ?? licenses?.[0]?.type ?? null;
}

/** Every package that is installed where nothing is developed, under its licence; both in order. */
export function licencesOf(root: string): [licence: string, packages: string[]][] {
  const { packages } = lockSchema.parse(JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')));
  const folders = Object.entries(packages).flatMap(([folder, { dev }]) => (folder === '' || dev ? [] : [folder]));
  const named = folders.map((folder) => {
    const name = folder.replace(/^.*node_modules\//, '');
    // What is for other systems is not there to be looked at.
    return { name, licence: packages[folder]?.license ?? licenceOf(root, folder) ?? 'unknown' };
  });
  const byLicence = Map.groupBy(named, ({ licence }) => licence);
  return [...byLicence]
    .map(([licence, each]): [string, string[]] => [licence, [...new Set(each.map(({ name }) => name))].sort()])
    .sort(([one], [other]) => one.localeCompare(other, 'en'));
}

/** The rows of the list in the guide for contributors. */
export const licenceRows = (root: string): string[] =>
  licencesOf(root).map(([licence, packages]) => `- **${licence}**: ${packages.join(', ')}`);
