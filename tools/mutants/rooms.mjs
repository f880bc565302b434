import { readFileSync } from 'node:fs';
import { join } from 'node:path';

import { filesBelow } from './related.mjs';
import { sitesOf } from './sites.mjs';

/** Folders whose code is changed. */
export const ROOMS = ['src/tasks', 'src/io/tables', 'src/core/observation', 'src/core/quality', 'src/core/geoid'];

export const roomOf = ({ file }) => ROOMS.find((room) => file.startsWith(`${room}/`));

/** Every place of every file of the rooms, or of those that begin with one of `under`. */
export function everySite(root, under = ROOMS) {
  return ROOMS.flatMap((room) => filesBelow(root, room, '.ts'))
    .filter((file) => under.some((part) => file.startsWith(part)))
    .flatMap((file) => sitesOf(file, readFileSync(join(root, file), 'utf8')));
}
