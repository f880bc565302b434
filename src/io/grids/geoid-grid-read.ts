import { basename, extname } from 'node:path';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { ggxfRefusal } from './ggxf-refusal.js';
import { GEOID_FORMATS } from './geoid-formats.js';
import { DEFAULT_GRID_READING } from './grid-reading.js';
import type { GridReading } from './grid-reading.js';
import { readWholeFile } from '../bytes/open-input.js';

/** The name of the built-in model where a path is asked for. */
export const BUILT_IN_GEOID = 'egm96';

/** The largest grid file read, bytes: a grid of the largest number of nodes, uncompressed, and its header. */
const MAXIMUM_FILE_BYTES = 1_610_000_000;

/**
 * Reads a geoid grid, by the ending of its name, or the built-in `egm96`.
 *
 * Given: `egm96`, or the path of a file whose ending is that of one of `GEOID_FORMATS`.
 * Returned: the grid in metres, with the file's SHA-256; warnings where the file leaves something
 * unsaid. A package needed for a format is loaded only when a file of that format is read.
 * Problems: those of `readWholeFile`; `grid-unreadable` where the file
 * is damaged, `grid-unsupported` where it is sound but not a geoid grid this program can use. Each
 * names the file.
 */
export async function readGeoidGrid(
  path: string,
  reading: GridReading = DEFAULT_GRID_READING,
): Promise<Outcome<GeoidGrid>> {
  if (path === BUILT_IN_GEOID) return (await import('./egm96-grid.js')).readEgm96Grid();
  const ending = extname(path).toLowerCase();
  const format = GEOID_FORMATS.find(({ endings }) => endings.includes(ending));
  const ggxf = ggxfRefusal(path, 'geoid heights', 'VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL');
  if (ggxf !== null) return ggxf;
  if (format === undefined) {
    return failure({
      code: 'grid-unsupported',
      severity: 'error',
      message: `the ending of ${basename(path)} is not that of a geoid grid`,
      expected: `${BUILT_IN_GEOID}, or a file ending in ${GEOID_FORMATS.flatMap(({ endings }) => endings).join(' ')}`,
      where: { source: path },
    });
  }
  const file = await readWholeFile(path, path, MAXIMUM_FILE_BYTES, 'a grid file');
  if (!file.ok) return file;
  const { bytes, sha256 } = file.value;
  const content = await format.read(bytes, reading);
  const problems = content.problems.map((problem) => placed(problem, path));
  if (!content.ok) return failureOf(problems);
  return success({ name: basename(path), sha256, ...content.value }, problems);
}

function placed(problem: Problem, source: string): Problem {
  return { ...problem, where: { ...problem.where, source } };
}
