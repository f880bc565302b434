import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import { fixPlaces } from '../reduction/fix-places.js';
import { createGeodesic } from '../../core/ellipsoid/geodesic.js';
import { GRS80 } from '../../core/ellipsoid/ellipsoid.js';
import { createPrecisionModel } from '../../core/planning/precision-model.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { CheckSetup } from '../../tasks/check/judge/check-tolerances-setup.js';
import { neighbourZones } from '../../tasks/check/judge/neighbour-zones.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import { loadReductionSetup } from '../reduction/setup/load-reduction-setup.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';

/** A setup whose axes are not settled before the points file was opened, and whose rules are added after. */
export type LoadedCheck = Omit<CheckSetup, 'axes' | 'controlRules' | 'repeatRules' | 'designRules' | 'day'>;

/** What a check is made with. */
export interface CheckLoading {
  readonly setup: LoadedCheck;
  /** Systems and geoid; null: the session names none. */
  readonly models: Pick<ReductionSetup, 'fixesSystem' | 'grid' | 'geoid'> | null;
  /** How positions of raw fixes become geodetic. */
  readonly places: FixPlaces;
}

/**
 * Loads what a session names for a check: system, geoid, bases; without a system, what comparisons without one need.
 * Problems: those of `loadReductionSetup`.
 */
export async function loadCheckSetup(place: SessionInPlace): Promise<Outcome<CheckLoading>> {
  const { session } = place;
  const { rover } = session;
  const common = {
    isTiltMeasured: rover.tiltAzimuth !== null,
    tilts: new Map<string, number>(),
    largestLeanDeg: session.acceptance.maxTiltDeg,
  };
  if (session.system === null || session.system.grid === '') {
    const setup: LoadedCheck = {
      ...common,
      grid: null,
      ellipsoid: GRS80,
      geodesic: createGeodesic(GRS80),
      geoid: null,
      geoidSigmaM: null,
      epochYear: null,
      bases: [],
      precision: createPrecisionModel(session.precision),
      phaseCentreOffsetsM: [],
      otherZones: [],
    };
    return success({ setup, models: null, places: { toGeodetic: (point) => geocentricToGeodetic(point, GRS80) } });
  }
  const loaded = await loadReductionSetup(place, []);
  if (!loaded.ok) return loaded;
  const { grid, ellipsoid, geodesic, geoid, geoidSigmaM, bases, precision } = loaded.value;
  const setup: LoadedCheck = {
    ...common,
    grid,
    ellipsoid,
    geodesic,
    geoid,
    geoidSigmaM,
    epochYear: session.system.epochYear,
    bases,
    precision,
    phaseCentreOffsetsM: [
      // A rover without an offset of its own was logged at its reference point.
      rover.phaseCentreOffsetM ?? 0,
      ...session.bases.map((base) => base.phaseCentreOffsetM),
    ],
    otherZones: neighbourZones(grid),
  };
  // What a reduction warns of (no base, no sigma) is no fault of a check that does without.
  const warnings =
    session.bases.length === 0 ? loaded.problems.filter(({ code }) => code !== 'config-unstated') : loaded.problems;
  return success({ setup, models: loaded.value, places: fixPlaces(loaded.value) }, warnings);
}
