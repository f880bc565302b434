import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PrecisionModel } from '../../core/planning/precision-model.js';
import type { AcceptanceSettings, RoverSettings, ToleranceSettings } from '../../records/session.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import type { ReductionShift } from './reduction-shift.js';

/** Everything a reduction needs besides the fixes: settings resolved, grids loaded, bases prepared. */
export interface ReductionSetup {
  /** The frame of the fixes. */
  readonly fixesSystem: GeographicSystem;
  /** The system of fixes that are grid coordinates; null: none is stated. */
  readonly fixesGrid: GridSystem | null;
  /** From the frame of the fixes to that of the grid; null: they are one. Every point is given in the latter. */
  readonly shift: ReductionShift | null;
  /** Of the frame of the points: the grid's. */
  readonly ellipsoid: Ellipsoid;
  readonly geodesic: Geodesic;
  readonly grid: GridSystem | null;
  readonly geoid: GeoidModel | null;
  /** One sigma of the geoid height; null: not stated. */
  readonly geoidSigmaM: number | null;
  readonly bases: readonly PreparedBase[];
  readonly rover: RoverSettings;
  readonly acceptance: AcceptanceSettings;
  readonly precision: PrecisionModel;
  /** Growth of the error with the age of the corrections, metres a second, one sigma per axis. */
  readonly ageRateMPerS: number;
  readonly tolerance: ToleranceSettings;
  /** Names of the inputs, by the fixes' `place.sourceIndex`. */
  readonly sources: readonly string[];
}
