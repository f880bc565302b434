import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hasProgram, runProgram } from './external-programs.js';

/**
 * The path of a grid file that is not part of this package, or null where it is not installed: looked
 * for in PROJ's own folders and in the data folder beside the package.
 */
export function geoidGridFile(name: string): string | null {
  const folders = [fileURLToPath(new URL('../../../shared/data', import.meta.url)), '/usr/share/proj'];
  if (hasProgram('projinfo')) folders.push(...runProgram('projinfo', ['--searchpaths'], ''));
  return folders.map((folder) => join(folder, name)).find((path) => existsSync(path)) ?? null;
}
