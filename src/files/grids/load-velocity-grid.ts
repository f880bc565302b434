import { basename, resolve } from 'node:path';
import { createVelocityGrid } from '../../core/frames/plates/velocity-grid.js';
import type { VelocityGrid } from '../../core/frames/plates/velocity-grid.js';
import { readWholeFile } from '../../io/bytes/open-input.js';
import { ggxfRefusal } from '../../io/grids/ggxf-refusal.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { readVelocityGrid } from '../../io/grids/velocity-grid-read.js';
import { failureOf } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';

/** The largest file read, bytes. */
const MAXIMUM_FILE_BYTES = 1_610_000_000;

/** Loads a grid of velocities, a geodetic TIFF. Problems: those of the file and of its reader. */
export async function loadVelocityGrid(
  name: string,
  folder: string,
  reading: GridReading,
): Promise<Outcome<VelocityGrid>> {
  const ggxf = ggxfRefusal(name, 'velocities', 'VELOCITY');
  if (ggxf !== null) return ggxf;
  const file = await readWholeFile(resolve(folder, name), name, MAXIMUM_FILE_BYTES, 'a grid of velocities');
  if (!file.ok) return file;
  const { bytes, sha256 } = file.value;
  const content = await readVelocityGrid(bytes, reading);
  if (!content.ok) return failureOf(content.problems.map((problem) => locateProblem(problem, { source: name })));
  const { frame, levels } = content.value;
  return createVelocityGrid({ name: basename(name), sha256, frame }, levels);
}
