import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';

/** How positions of fixes become geodetic: by the systems of a setup. With a shift the geoid is not in the frame of the fixes, and serves none. */
export function fixPlaces({
  fixesSystem,
  fixesGrid,
  shift,
  geoid,
}: Pick<ReductionSetup, 'fixesSystem' | 'fixesGrid' | 'shift' | 'geoid'>): FixPlaces {
  const { ellipsoid } = fixesSystem;
  return {
    toGeodetic: (point) => geocentricToGeodetic(point, ellipsoid),
    grid: fixesGrid,
    geoid: shift === null ? geoid : null,
  };
}
