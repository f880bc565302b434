import { carriedGeoid } from '../../../core/geoid/carried-geoid.js';
import type { GeoidGrid } from '../../../core/geoid/geoid-grid.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { ReductionShift } from '../../../tasks/reduce/reduction-shift.js';
import type { GridReading } from '../../../io/grids/grid-reading.js';
import { loadGeoid } from '../../grids/load-geoid.js';
import type { GeoidChoice, LoadedGeoid } from '../../grids/load-geoid.js';

/** The frames of a reduction: of the fixes, of the grid, and the shift between them; null: they are one. */
export interface ReductionFrames {
  readonly fixes: GeographicSystem;
  readonly national: GeographicSystem;
  readonly shift: ReductionShift | null;
}

/**
 * The geoid of a reduction, for places in the frame of the grid. One that is given in the frame of the fixes is read there,
 * and its heights are carried over by the shift (`carriedGeoid`). Problems: those of `loadGeoid`.
 */
export async function loadReductionGeoid(
  choice: GeoidChoice,
  folder: string,
  { fixes, national, shift }: ReductionFrames,
  reading: GridReading,
  held: GeoidGrid | null,
): Promise<Outcome<LoadedGeoid>> {
  const own = await loadGeoid(choice, folder, shift === null ? fixes : national, reading, held);
  if (own.ok && shift !== null) return withFrameDoubt(own.value, own.problems, choice, national);
  if (own.ok || shift === null || !own.problems.every(({ code }) => code === 'grid-frame-mismatch')) return own;
  const ofFixes = await loadGeoid(choice, folder, fixes, reading, held);
  if (!ofFixes.ok) return own;
  const { geoid, sigmaM } = ofFixes.value;
  const carriage = {
    toWanted: shift.toNational,
    toGeoid: shift.toFixes,
    wantedEllipsoid: national.ellipsoid,
    geoidEllipsoid: fixes.ellipsoid,
  };
  return success({ geoid: carriedGeoid(geoid, carriage), sigmaM }, ofFixes.problems);
}

/** Beside a shift there are two places to read a geoid at: which one was taken is said where the file says nothing of its frame. */
function withFrameDoubt(
  loaded: LoadedGeoid,
  problems: readonly Problem[],
  { statedFrame }: GeoidChoice,
  national: GeographicSystem,
): Outcome<LoadedGeoid> {
  const { name, frame } = loaded.geoid.grid;
  if (frame !== null || statedFrame !== null) return success(loaded, problems);
  const doubt = warningProblem('config-unstated', {
    message: `geoid ${name} does not say its frame: it is read at the place in ${national.name}, the frame of the grid`,
    hint: 'set height.geoid_frame to the code of the frame that its heights refer to, such as that of the fixes',
  });
  return success(loaded, [...problems, doubt]);
}
