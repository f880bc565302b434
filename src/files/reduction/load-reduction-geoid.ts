import { carriedGeoid } from '../../core/geoid/carried-geoid.js';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { createShiftFunction } from '../../core/frames/shifts/shift-function.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { ReductionShift } from '../../tasks/reduce/reduction-shift.js';
import { opposite } from '../../tasks/transform/step.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { loadGeoid } from '../load-geoid.js';
import type { GeoidChoice, LoadedGeoid } from '../load-geoid.js';

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
  if (own.ok || shift === null || !own.problems.every(({ code }) => code === 'grid-frame-mismatch')) return own;
  const ofFixes = await loadGeoid(choice, folder, fixes, reading, held);
  if (!ofFixes.ok) return own;
  const toGeoid = createShiftFunction(shift.shift, shift.epochYear, opposite(shift.direction));
  if (!toGeoid.ok) return toGeoid;
  const { geoid, sigmaM } = ofFixes.value;
  const carriage = {
    toWanted: shift.toNational,
    toGeoid: toGeoid.value,
    wantedEllipsoid: national.ellipsoid,
    geoidEllipsoid: fixes.ellipsoid,
  };
  return success({ geoid: carriedGeoid(geoid, carriage), sigmaM }, ofFixes.problems);
}
