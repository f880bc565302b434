import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { extname } from 'node:path';
import type { GridShiftLevel } from '../core/grid/grid-shift.js';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem, locateProblem } from '../records/problem.js';
import { fileErrorCode, fileErrorWords } from './file-error.js';
import { DEFAULT_GRID_READING } from './grid-reading.js';
import type { GridReading } from './grid-reading.js';
import { readNtv2 } from './ntv2-read.js';

/** A file of latitude and longitude shifts. */
export interface GridShiftFile {
  readonly levels: readonly GridShiftLevel[];
  /** The file's own words for the two systems; null where it has none. */
  readonly fromName: string | null;
  readonly toName: string | null;
  readonly sha256: string;
}

/**
 * Reads a grid of shifts: NTv2 (`.gsb`) or a geodetic TIFF (`.tif`) of horizontal offsets.
 * Given: its absolute path; its name for people. Problems: file-not-found, file-unreadable; those
 * of the two readers.
 */
export async function readGridShift(path: string, name: string, reading: GridReading = DEFAULT_GRID_READING): Promise<Outcome<GridShiftFile>> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const where = { source: name };
    if (fileErrorCode(error) === 'ENOENT') return failure(errorProblem('file-not-found', { message: 'no such file', where, hint: 'check the path' }));
    return failure(errorProblem('file-unreadable', { message: `cannot be read: ${fileErrorWords(error)}`, where }));
  }
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const content = extname(name).toLowerCase() === '.gsb' ? readNtv2(bytes) : await (await import('./geotiff-shift-read.js')).readGeotiffShift(bytes, reading);
  if (!content.ok) return failure(...content.problems.map((problem) => locateProblem(problem, { source: name })));
  return success({ ...content.value, sha256 }, content.problems);
}
