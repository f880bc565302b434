import { implausibleGeocentric } from '../../core/ellipsoid/implausible-geocentric.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { invertKeptHeight } from '../../core/frames/shifts/shift-kept-height.js';
import type { MutableGeocentric } from '../../core/frames/shifts/shift-definition.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { ellipsoidalHeightM, orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridPair } from '../../core/grid/systems/grid-system.js';
import {
  doubtOfAccepted,
  exchangedPlace,
  implausiblePair,
  lostSign,
} from '../../core/grid/systems/implausible-place.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { TransformSetup } from './transform-setup.js';
import type { TransformedPoint } from '../reduce/transformed-point.js';

/** Fills `out` and returns null, or the error that keeps the point from being transformed, without its place. */
export type PointTransformer = (row: PlaceRow, out: TransformedPoint) => Problem | null;

/**
 * A transformation made ready for many points; a point costs no allocation but that of its way
 * through geocentric coordinates.
 *
 * Order: step in undone; grid to latitude and longitude; orthometric to ellipsoidal height; change
 * of frame; heights of the target; latitude and longitude to grid; step out.
 *
 * Notes. 1. A height that is not known is not made up: where a frame changes, the orthometric
 * height, or 0, stands in on the way (100 m move the position by about 1 mm per 60 m of shift) and
 * the target's ellipsoidal height stays unknown. 2. An orthometric height belongs to the ground,
 * not to the frame, and is carried along.
 */
export function createPointTransformer(setup: TransformSetup): PointTransformer {
  const { from, to, change, stepIn, stepOut, toEllipsoidal, toOrthometric, verticalM } = setup;
  const pair: GridPair = { first: 0, second: 0 };
  const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  const xyz: MutableGeocentric = { xM: 0, yM: 0, zM: 0 };
  const fromEllipsoid = from.geographic.ellipsoid;
  const toEllipsoid = to.geographic.ellipsoid;
  const passesXyz =
    from.kind === 'geocentric' && to.kind === 'geocentric' && (change.kind === 'geocentric' || change.kind === 'none');
  const needsPlace =
    setup.needsPlace ||
    to.areaOfUse !== null ||
    toOrthometric !== null ||
    toEllipsoidal?.at === 'target' ||
    verticalM !== null;

  /** The error that refuses the position; a doubt that does not goes with the point. */
  function refusal(found: Problem | null, out: TransformedPoint): Problem | null {
    const judged = doubtOfAccepted(found, setup.acceptsPosition);
    if (judged?.severity === 'error') return judged;
    if (judged !== null) out.doubt = judged;
    return null;
  }

  /** Where the row is, in the source frame: into `place`; its height is returned, null where not known. */
  function enter(row: PlaceRow, out: TransformedPoint): Problem | null {
    if (from.kind === 'geographic') {
      place.latitudeDeg = row.first;
      place.longitudeDeg = row.second;
      if (from.areaOfUse === null || isInsideArea(from.areaOfUse, row.first, row.second)) return null;
      return refusal(
        exchangedPlace(from.areaOfUse, row.first, row.second) ?? lostSign(from.areaOfUse, row.first, row.second),
        out,
      );
    }
    const { grid } = from;
    if (grid === null) return null;
    pair.first = row.first;
    pair.second = row.second;
    if (stepIn !== null) stepIn.transformation.inverse(row.first, row.second, pair);
    if (change.kind === 'plane') return null;
    const status = grid.inverse(pair.first, pair.second, place);
    if (status !== 'ok')
      return (
        implausiblePair(grid, pair.first, pair.second, null) ??
        gridProblem(status, { first: pair.first, second: pair.second }, grid)
      );
    if (grid.areaOfUse === null || isInsideArea(grid.areaOfUse, place.latitudeDeg, place.longitudeDeg)) return null;
    return refusal(implausiblePair(grid, pair.first, pair.second, place), out);
  }

  function shiftByGrid(): Problem | null {
    if (change.kind !== 'grid') return null;
    const run = change.direction === 'forward' ? change.shift.forward : change.shift.inverse;
    if (run(place.latitudeDeg, place.longitudeDeg, place)) return null;
    return errorProblem('grid-outside', {
      message: `latitude ${String(place.latitudeDeg)}, longitude ${String(place.longitudeDeg)} is outside the grid of shifts, or at a node without one`,
      hint: 'use a grid that covers the place; nothing is put in its stead',
    });
  }

  /** The position in `place` or `xyz` written in the target's own coordinates. */
  function leave(out: TransformedPoint): Problem | null {
    out.isOutsideArea = to.areaOfUse !== null && !isInsideArea(to.areaOfUse, place.latitudeDeg, place.longitudeDeg);
    out.latitudeDeg = place.latitudeDeg;
    out.longitudeDeg = place.longitudeDeg;
    // The target may be a zone where the source is the whole world: what is far outside may be the other way about.
    const exchanged =
      out.isOutsideArea && to.areaOfUse !== null && from.kind === 'geographic'
        ? exchangedPlace(to.areaOfUse, place.latitudeDeg, place.longitudeDeg)
        : null;
    const refused = exchanged === null ? null : refusal(exchanged, out);
    if (refused !== null) return refused;
    if (to.kind === 'geographic') {
      out.first = place.latitudeDeg;
      out.second = place.longitudeDeg;
      return null;
    }
    const { grid } = to;
    if (to.topocentric !== null) {
      const { eastM, northM, upM } = to.topocentric.fromGeocentric(xyz);
      out.first = eastM;
      out.second = northM;
      out.third = upM;
      return null;
    }
    if (grid === null) {
      out.first = xyz.xM;
      out.second = xyz.yM;
      out.third = xyz.zM;
      return null;
    }
    if (change.kind !== 'plane') {
      const status = grid.forward(place.latitudeDeg, place.longitudeDeg, pair);
      if (status !== 'ok') return gridProblem(status, place, grid);
    }
    out.gridFirst = pair.first;
    out.gridSecond = pair.second;
    if (stepOut !== null) stepOut.transformation.forward(pair.first, pair.second, pair);
    out.first = pair.first;
    out.second = pair.second;
    return null;
  }

  return (row, out) => {
    let h = row.ellipsoidalHeightM;
    let orthometric = row.orthometricHeightM;
    out.geoidHeightM = null;
    out.doubt = null;
    if (from.kind === 'geocentric') {
      if (from.topocentric === null) {
        xyz.xM = row.first;
        xyz.yM = row.second;
        xyz.zM = row.third;
      } else {
        const at = from.topocentric.toGeocentric({ eastM: row.first, northM: row.second, upM: row.third });
        xyz.xM = at.xM;
        xyz.yM = at.yM;
        xyz.zM = at.zM;
      }
      const doubt = implausibleGeocentric(xyz, null);
      if (doubt !== null)
        return from.topocentric === null
          ? doubt
          : implausibleGeocentric(xyz, { eastM: row.first, northM: row.second, upM: row.third });
      if (!passesXyz) {
        const geodetic = geocentricToGeodetic(xyz, fromEllipsoid);
        place.latitudeDeg = geodetic.latitudeDeg;
        place.longitudeDeg = geodetic.longitudeDeg;
        h = geodetic.ellipsoidalHeightM;
      }
    } else {
      const problem = enter(row, out);
      if (problem !== null) return problem;
    }
    if (toEllipsoidal?.at === 'source' && orthometric !== null) {
      const n = toEllipsoidal.geoid.heightAt(place.latitudeDeg, place.longitudeDeg);
      if (n === null) return noGeoid(toEllipsoidal.geoid, place);
      out.geoidHeightM = n;
      h = ellipsoidalHeightM(orthometric, n);
    }
    if (change.kind === 'geocentric') {
      const way = h ?? orthometric ?? 0;
      if (change.heights === 'kept-inverse' && !passesXyz) {
        const start = { latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg, ellipsoidalHeightM: way };
        const end = invertKeptHeight(change.run, start, fromEllipsoid, toEllipsoid);
        place.latitudeDeg = end.latitudeDeg;
        place.longitudeDeg = end.longitudeDeg;
      } else {
        if (from.kind === 'geocentric') change.run(xyz.xM, xyz.yM, xyz.zM, xyz);
        else {
          const start = geodeticToGeocentric(
            { latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg, ellipsoidalHeightM: way },
            fromEllipsoid,
          );
          change.run(start.xM, start.yM, start.zM, xyz);
        }
        if (!Number.isFinite(xyz.xM + xyz.yM + xyz.zM)) return implausibleGeocentric(xyz, null);
        if (!passesXyz || needsPlace) {
          const end = geocentricToGeodetic(xyz, toEllipsoid);
          place.latitudeDeg = end.latitudeDeg;
          place.longitudeDeg = end.longitudeDeg;
          if (passesXyz || (h !== null && change.heights === 'transformed')) h = end.ellipsoidalHeightM;
        }
      }
    } else if (change.kind === 'grid') {
      const problem = shiftByGrid();
      if (problem !== null) return problem;
    } else if (change.kind === 'plane') {
      const { transformation, direction } = change;
      if (direction === 'forward') transformation.forward(pair.first, pair.second, pair);
      else transformation.inverse(pair.first, pair.second, pair);
      if (needsPlace && to.grid !== null) {
        const status = to.grid.inverse(pair.first, pair.second, place);
        if (status !== 'ok') return gridProblem(status, { first: pair.first, second: pair.second }, to.grid);
      }
    } else if (passesXyz && needsPlace) {
      const end = geocentricToGeodetic(xyz, toEllipsoid);
      place.latitudeDeg = end.latitudeDeg;
      place.longitudeDeg = end.longitudeDeg;
      h = end.ellipsoidalHeightM;
    }
    if (toEllipsoidal?.at === 'target' && orthometric !== null) {
      const n = toEllipsoidal.geoid.heightAt(place.latitudeDeg, place.longitudeDeg);
      if (n === null) return noGeoid(toEllipsoidal.geoid, place);
      out.geoidHeightM = n;
      h = ellipsoidalHeightM(orthometric, n);
    }
    if (verticalM !== null && orthometric !== null) orthometric += verticalM(place.latitudeDeg, place.longitudeDeg);
    if (toOrthometric !== null && h !== null) {
      const n = toOrthometric.heightAt(place.latitudeDeg, place.longitudeDeg);
      if (n === null) return noGeoid(toOrthometric, place);
      out.geoidHeightM = n;
      orthometric = orthometricHeightM(h, n);
    }
    if (to.kind === 'geocentric' && !passesXyz) {
      if (h === null) {
        return errorProblem('value-missing', {
          message: `${to.topocentric === null ? 'geocentric' : 'topocentric'} coordinates need the ellipsoidal height of the point, and it is not known`,
          hint: 'add ellipsoidal_height_m, or give --from-height orthometric with --geoid',
        });
      }
      const end = geodeticToGeocentric(
        { latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg, ellipsoidalHeightM: h },
        toEllipsoid,
      );
      xyz.xM = end.xM;
      xyz.yM = end.yM;
      xyz.zM = end.zM;
    }
    out.ellipsoidalHeightM = h;
    out.orthometricHeightM = orthometric;
    return leave(out);
  };
}

function noGeoid(geoid: GeoidModel, { latitudeDeg, longitudeDeg }: GeographicPair): Problem {
  return geoidProblem(
    geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside',
    latitudeDeg,
    longitudeDeg,
    geoid.grid,
  );
}
