import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hasProgram, runProgram } from './external-programs.js';

/**
 * The path of a grid file, or null where it is not there: looked for among the excerpts in tests/fixtures, which are
 * everywhere, then in PROJ's own folders.
 */
export function geoidGridFile(name: string): string | null {
  const folders = [fileURLToPath(new URL('../fixtures/geoid-excerpts', import.meta.url)), '/usr/share/proj'];
  if (hasProgram('projinfo')) folders.push(...runProgram('projinfo', ['--searchpaths'], ''));
  return folders.map((folder) => join(folder, name)).find((path) => existsSync(path)) ?? null;
}
