import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../ellipsoid/geocentric.js';
import type { GeodeticPoint } from '../../../records/points/point.js';
import type { ShiftFunction } from '../shifts/shift-definition.js';
import { invertKeptHeight } from '../shifts/shift-kept-height.js';
import { geocentricGridShift } from './geocentric-grid.js';
import type { GeocentricWay } from './geocentric-grid.js';
import type { ShiftGrid } from './shift-grid.js';

/** The two ways between two frames, X, Y, Z to X, Y, Z. */
export interface WaysInSpace {
  readonly forward: GeocentricWay;
  readonly inverse: GeocentricWay;
}

/** A shift that leads everywhere. */
export function everywhere(run: ShiftFunction): GeocentricWay {
  return (xM, yM, zM, out) => {
    run(xM, yM, zM, out);
    return true;
  };
}

/**
 * A grid of shifts between X, Y, Z of two frames. Where the grid has no heights the number of the ellipsoidal height stays.
 * Given: the grid; the ellipsoids of its source and its target. Returned: the two ways.
 */
export function gridInSpace(
  grid: Exclude<ShiftGrid, { readonly kind: 'vertical' }>,
  source: Ellipsoid,
  target: Ellipsoid,
): WaysInSpace {
  if (grid.kind === 'geocentric') {
    const { translationsAt, readAt } = grid;
    return geocentricGridShift(translationsAt, readAt, readAt === 'source' ? source : target);
  }
  const { heightAddedM } = grid;
  // Without shifts places stay.
  const shift = grid.shift ?? { forward: stays, inverse: stays };
  const out = { latitudeDeg: 0, longitudeDeg: 0 };
  const added = (latitudeDeg: number, longitudeDeg: number): number | null =>
    heightAddedM === null ? 0 : heightAddedM(latitudeDeg, longitudeDeg);
  return {
    forward: throughPlaces(source, target, ({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) => {
      const risenM = added(latitudeDeg, longitudeDeg);
      if (risenM === null || !shift.forward(latitudeDeg, longitudeDeg, out)) return null;
      return { ...out, ellipsoidalHeightM: ellipsoidalHeightM + risenM };
    }),
    inverse: throughPlaces(target, source, ({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) => {
      if (!shift.inverse(latitudeDeg, longitudeDeg, out)) return null;
      const risenM = added(out.latitudeDeg, out.longitudeDeg);
      return risenM === null ? null : { ...out, ellipsoidalHeightM: ellipsoidalHeightM - risenM };
    }),
  };
}

function stays(latitudeDeg: number, longitudeDeg: number, out: { latitudeDeg: number; longitudeDeg: number }): true {
  out.latitudeDeg = latitudeDeg;
  out.longitudeDeg = longitudeDeg;
  return true;
}

/**
 * A shift of which one frame has no ellipsoidal heights, between X, Y, Z of the two: the number of the height stays. Forward is
 * as the operation was published, back is solved for (`invertKeptHeight`).
 * Given: the two directions of the shift; the ellipsoids of its source and its target.
 */
export function keptHeightInSpace(
  { forward, inverse }: { readonly forward: ShiftFunction; readonly inverse: ShiftFunction },
  source: Ellipsoid,
  target: Ellipsoid,
): WaysInSpace {
  const scratch = { xM: 0, yM: 0, zM: 0 };
  return {
    forward: throughPlaces(source, target, (place) => {
      const { xM, yM, zM } = geodeticToGeocentric(place, source);
      forward(xM, yM, zM, scratch);
      return { ...geocentricToGeodetic(scratch, target), ellipsoidalHeightM: place.ellipsoidalHeightM };
    }),
    inverse: throughPlaces(target, source, (place) => invertKeptHeight(inverse, place, target, source)),
  };
}

/** X, Y, Z to a place, to another place, to X, Y, Z. */
function throughPlaces(
  from: Ellipsoid,
  to: Ellipsoid,
  carry: (place: GeodeticPoint) => GeodeticPoint | null,
): GeocentricWay {
  return (xM, yM, zM, out) => {
    const place = carry(geocentricToGeodetic({ xM, yM, zM }, from));
    if (place === null) return false;
    const there = geodeticToGeocentric(place, to);
    out.xM = there.xM;
    out.yM = there.yM;
    out.zM = there.zM;
    return true;
  };
}
