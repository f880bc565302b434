import { dirname, resolve } from 'node:path';
import { DEFAULT_GRID_READING } from '../../io/grids/grid-reading.js';
import { readSession } from '../../io/settings/session-read.js';
import { readTextFile } from '../../io/text/text-file.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { SessionInPlace } from './session-in-place.js';

/**
 * A session file (TOML, docs/file-formats.md) with every default filled in.
 *
 * Given: its path, from the working folder. Returned: the session, and the folder that the paths in it start from.
 * Problems: file-not-found, file-too-large, file-encoding; those of the settings, each with its key.
 *
 * @example
 * const read = await readSessionFile('day/session.toml');
 * if (read.ok) console.log(read.value.session.system?.grid);
 */
export async function readSessionFile(path: string): Promise<Outcome<SessionInPlace>> {
  const text = await readTextFile(resolve(path), path);
  if (!text.ok) return text;
  const session = readSession(text.value.text, path);
  return session.ok
    ? success(
        { session: session.value, folder: dirname(resolve(path)), reading: DEFAULT_GRID_READING },
        session.problems,
      )
    : session;
}
