import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Geodesic } from '../../ellipsoid/geodesic.js';
import { normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { PlanPlace } from '../plan-point.js';

/** A corner of a line or area as drawn. */
export interface PlanVertex extends PlanPlace {
  readonly ellipsoidalHeightM: number | null;
}

/** A point put on a line or in an area so that all of it is served. */
export interface DensifiedPoint extends PlanVertex {
  readonly part: 'vertex' | 'edge' | 'interior';
  /** Geodesic distance along the line or boundary from its first vertex, metres; null in the interior. */
  readonly chainageM: number | null;
}

/** More points than this are refused: the spacing is surely not what was meant. */
export const MOST_DENSIFIED_POINTS = 1_000_000;

/**
 * Points along a line of geodesics, no farther apart than the spacing.
 *
 * Given: vertices, degrees, at least two; spacing, metres, > 0. Returned: every vertex, and between
 * two vertices equally spaced points of their geodesic; heights interpolated in proportion where
 * both ends have one, else null. A repeated vertex is kept once.
 * Problems: fewer than two different vertices (geojson-structure); spacing not positive or so small
 * that more than a million points arise (value-out-of-range). Reference: KARNEY-2013.
 */
export function densifyLine(geodesic: Geodesic, vertices: readonly PlanVertex[], spacingM: number): Outcome<readonly DensifiedPoint[]> {
  const problem = badSpacing(spacingM);
  if (problem !== null) return problem;
  const points: DensifiedPoint[] = [];
  let chainageM = 0;
  let from: PlanVertex | null = null;
  for (const to of vertices) {
    if (from === null) {
      points.push({ ...to, part: 'vertex', chainageM });
      from = to;
      continue;
    }
    const line = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
    if (line.azimuthDeg === null || line.distanceM === 0) continue;
    const pieces = Math.max(1, Math.ceil(line.distanceM / spacingM - 1e-9));
    if (points.length + pieces > MOST_DENSIFIED_POINTS) return tooMany(spacingM);
    for (let piece = 1; piece < pieces; piece += 1) {
      const share = piece / pieces;
      const at = geodesic.direct(from.latitudeDeg, from.longitudeDeg, line.azimuthDeg, line.distanceM * share);
      points.push({
        latitudeDeg: at.latitudeDeg,
        longitudeDeg: normaliseLongitudeDeg(at.longitudeDeg),
        ellipsoidalHeightM:
          from.ellipsoidalHeightM === null || to.ellipsoidalHeightM === null
            ? null
            : from.ellipsoidalHeightM + share * (to.ellipsoidalHeightM - from.ellipsoidalHeightM),
        part: 'edge',
        chainageM: chainageM + line.distanceM * share,
      });
    }
    chainageM += line.distanceM;
    points.push({ ...to, part: 'vertex', chainageM });
    from = to;
  }
  if (points.length < 2) {
    return failure(errorProblem('geojson-structure', { message: 'a line needs two different positions', received: String(vertices.length), hint: 'draw the line again, or leave it out' }));
  }
  return success(points);
}

/** A failure for a spacing that cannot be used, or null. */
export function badSpacing(spacingM: number): Outcome<readonly DensifiedPoint[]> | null {
  if (spacingM > 0 && Number.isFinite(spacingM)) return null;
  return failure(errorProblem('value-out-of-range', { message: `the spacing is ${String(spacingM)} m, which must be above 0`, received: String(spacingM), expected: 'metres above 0' }));
}

/** A failure for a spacing that makes too many points. */
export function tooMany(spacingM: number): Outcome<readonly DensifiedPoint[]> {
  return failure(
    errorProblem('value-out-of-range', {
      message: `a spacing of ${String(spacingM)} m makes more than ${String(MOST_DENSIFIED_POINTS)} points`,
      received: String(spacingM),
      hint: 'give a larger spacing',
    }),
  );
}
