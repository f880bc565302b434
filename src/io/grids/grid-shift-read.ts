import { extname } from 'node:path';
import type { ShiftGridContent, ShiftGridFacts } from '../../core/frames/grids/shift-grid.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';
import { DEFAULT_GRID_READING } from './grid-reading.js';
import type { GridReading } from './grid-reading.js';
import { readNtv2 } from './ntv2-read.js';
import { readWholeFile } from '../bytes/open-input.js';
import type { ShiftGridRead } from './tiff/geotiff-shift-read.js';

/** The largest file read, bytes: the most nodes of 16 bytes each. */
const MAXIMUM_FILE_BYTES = 1_610_000_000;

/** A file of shifts between frames. */
export interface GridShiftFile {
  readonly content: ShiftGridContent;
  readonly facts: ShiftGridFacts;
  readonly sha256: string;
}

/**
 * Reads a grid of shifts: NTv2 (`.gsb`) or a geodetic TIFF (`.tif`) of a kind of shifts.
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
      ? ofNtv2(bytes)
      : await (await import('./tiff/geotiff-shift-read.js')).readGeotiffShift(bytes, reading);
  if (!content.ok) return failureOf(content.problems.map((problem) => locateProblem(problem, { source: name })));
  return success({ ...content.value, sha256 }, content.problems);
}

/** An NTv2 file names its systems in free text, and no codes. */
function ofNtv2(bytes: Uint8Array): Outcome<ShiftGridRead> {
  const read = readNtv2(bytes);
  if (!read.ok) return read;
  const { levels, fromName, toName } = read.value;
  return success({
    content: { kind: 'geographic', shifts: levels, heights: null },
    facts: { frame: null, from: null, to: null, fromName, toName, interpolation: 'bilinear' },
  });
}
