import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The root of the repository. */
export const ROOT: string = fileURLToPath(new URL('../..', import.meta.url));

/** Files under a folder of the repository whose name ends as given, as paths from the root with `/`, sorted. */
export function filesUnder(folder: string, ending: string): readonly string[] {
  if (!existsSync(join(ROOT, folder))) return [];
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith(ending))
    .sort();
}

/** The text of a file of the repository. */
export function textOf(path: string): string {
  return readFileSync(join(ROOT, path), 'utf8');
}
