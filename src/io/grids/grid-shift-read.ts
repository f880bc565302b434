import { extname } from 'node:path';
import type { GridShiftLevel } from '../../core/grid/plane/grid-shift.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';
import { DEFAULT_GRID_READING } from './grid-reading.js';
import type { GridReading } from './grid-reading.js';
import { readNtv2 } from './ntv2-read.js';
import { readWholeFile } from '../bytes/open-input.js';

/** The largest file read, bytes: the most nodes of 16 bytes each. */
const MAXIMUM_FILE_BYTES = 1_610_000_000;

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
 * Given: its absolute path; its name for people. Problems: those of `readWholeFile` and of
 * the two readers.
 */
export async function readGridShift(
  path: string,
  name: string,
  reading: GridReading = DEFAULT_GRID_READING,
): Promise<Outcome<GridShiftFile>> {
  const file = await readWholeFile(path, name, MAXIMUM_FILE_BYTES, 'a grid of shifts');
  if (!file.ok) return file;
  const { bytes, sha256 } = file.value;
  const content =
    extname(name).toLowerCase() === '.gsb'
      ? readNtv2(bytes)
      : await (await import('./tiff/geotiff-shift-read.js')).readGeotiffShift(bytes, reading);
  if (!content.ok) return failureOf(content.problems.map((problem) => locateProblem(problem, { source: name })));
  return success({ ...content.value, sha256 }, content.problems);
}
