import { eulerRadiusM } from '../../core/ellipsoid/radii.js';
import { elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { unitsEastNorth } from '../../core/grid/systems/grid-axes.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridPair } from '../../core/grid/systems/grid-system.js';
import { slopeToEllipsoidal } from '../../core/grid/factors/slope-to-ellipsoidal.js';
import { normaliseLongitudeDeg, RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PolarLine, Station } from '../../records/points/point-join.js';
import { errorProblem } from '../../records/problem.js';
import { present } from '../../records/present.js';
import type { JoinSetup } from './join-points.js';

/** A place, without heights. */
type Place = Pick<Station, 'latitudeDeg' | 'longitudeDeg' | 'gridFirst' | 'gridSecond'>;
/** A length along the line, wanted on the ellipsoid or on the grid. */
interface Wanted {
  readonly on: 'ellipsoid' | 'grid';
  readonly lengthM: number;
}

const MOST_ITERATIONS = 40;
const SETTLED_M = 1e-8;

/**
 * The point at a direction and distance from a known one.
 *
 * Given: azimuth of the geodesic, or bearing of the straight grid line from grid north; a distance on
 * the grid, on the ellipsoid, horizontal on the ground at the mean height of the ends, or straight from
 * mark to mark. Returned: the point; its ellipsoidal height where the difference is stated.
 * Problems: value-missing where a distance needs a height that is not known; value-out-of-range for a
 * slope shorter than the difference of heights; those of the projection. A ground distance without a
 * height difference is taken at the height of the known point. Inverse: `joinPoints`.
 *
 * @example
 * // Flinders Peak to Buninyong by its azimuth and distance, worked example of the GDA2020 manual.
 * const setup = { grid: loadGridSystem('EPSG:28355').value, geodesic: createGeodesic(GRS80) };
 * const place = { file: null, line: 1, record: 1 };
 * const flinders = { latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889, gridFirst: 273741.297, gridSecond: 5796489.777 };
 * const from = { pointId: 'F', occupation: '', ...flinders, ellipsoidalHeightM: null, orthometricHeightM: null, place };
 * const line = { pointId: 'B', fromId: 'F', azimuthDeg: 306.868158333, gridBearingDeg: null, distanceM: 54972.271, place };
 * const found = polarPoint({ ...line, distanceKind: 'ellipsoidal', heightDifferenceM: null }, from, setup).value;
 * [found.latitudeDeg, found.longitudeDeg]; // [-37.6528211, 143.9264955]
 */
export function polarPoint(line: PolarLine, from: Station, setup: JoinSetup): Outcome<Station> {
  const { ellipsoid } = setup.grid.base;
  // The radius belongs to the middle of the line, which is known only after a first try.
  let found: Outcome<Place> = success(from);
  let azimuthDeg = line.azimuthDeg ?? present(line.gridBearingDeg, 'the direction of a line');
  for (let round = 0; round < 3; round += 1) {
    const far = found.ok ? found.value : from;
    const radiusM = eulerRadiusM(ellipsoid, (from.latitudeDeg + far.latitudeDeg) / 2, azimuthDeg);
    const wanted = wantedLength(line, from, radiusM);
    if (!wanted.ok) return wanted;
    found =
      line.azimuthDeg === null
        ? // A line has one direction or the other: one with neither was refused with its row.
          alongGrid(present(line.gridBearingDeg, 'the direction of a line'), wanted.value, from, setup)
        : alongGeodesic(line.azimuthDeg, wanted.value, from, setup);
    if (!found.ok) return found;
    if (line.distanceKind === 'grid' || line.distanceKind === 'ellipsoidal') break;
    azimuthDeg =
      setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, found.value.latitudeDeg, found.value.longitudeDeg)
        .azimuthDeg ?? azimuthDeg;
  }
  if (!found.ok) return found;
  return success({
    pointId: line.pointId,
    occupation: '',
    ...found.value,
    ellipsoidalHeightM:
      from.ellipsoidalHeightM === null || line.heightDifferenceM === null
        ? null
        : from.ellipsoidalHeightM + line.heightDifferenceM,
    orthometricHeightM: null,
    place: line.place,
  });
}

function wantedLength(line: PolarLine, from: Station, radiusM: number): Outcome<Wanted> {
  const { distanceKind, distanceM, heightDifferenceM } = line;
  if (distanceKind === 'grid') return success({ on: 'grid', lengthM: distanceM });
  if (distanceKind === 'ellipsoidal') return success({ on: 'ellipsoid', lengthM: distanceM });
  const h = from.ellipsoidalHeightM;
  if (h === null)
    return failure(
      missing(
        line,
        `the ellipsoidal height of ${line.fromId}`,
        'give ellipsoidal heights in the points file, or orthometric ones and --geoid',
      ),
    );
  if (distanceKind === 'ground')
    return success({
      on: 'ellipsoid',
      // A height difference that is not known is taken as level.
      lengthM: distanceM * elevationFactor(radiusM, h + (heightDifferenceM ?? 0) / 2),
    });
  if (heightDifferenceM === null)
    return failure(missing(line, 'ellipsoidal_height_difference_m', 'a slope distance needs it; 0 is a statement too'));
  const s = slopeToEllipsoidal(distanceM, h, h + heightDifferenceM, radiusM);
  return s.ok ? success({ on: 'ellipsoid', lengthM: s.value }) : s;
}

function missing(line: PolarLine, what: string, hint: string): ReturnType<typeof errorProblem> {
  return errorProblem('value-missing', {
    message: `the ${line.distanceKind} distance to ${line.pointId} cannot be used without ${what}`,
    hint,
  });
}

/** The end of a geodesic whose length, or whose straight grid length, is the one wanted. */
function alongGeodesic(azimuthDeg: number, wanted: Wanted, from: Station, setup: JoinSetup): Outcome<Place> {
  const { grid, geodesic } = setup;
  const metres = grid.axes[0].metresPerUnit;
  return lengthen(wanted, wanted.on === 'ellipsoid', (lengthM) => {
    const end = geodesic.direct(from.latitudeDeg, from.longitudeDeg, azimuthDeg, lengthM);
    const geographic = { latitudeDeg: end.latitudeDeg, longitudeDeg: normaliseLongitudeDeg(end.longitudeDeg) };
    const out: GridPair = { first: NaN, second: NaN };
    const status = grid.forward(geographic.latitudeDeg, geographic.longitudeDeg, out);
    if (status !== 'ok') return failure(gridProblem(status, geographic, grid));
    const gridM = Math.hypot(out.first - from.gridFirst, out.second - from.gridSecond) * metres;
    return success({ place: { ...geographic, gridFirst: out.first, gridSecond: out.second }, lengthM: gridM });
  });
}

/** The end of a straight grid line whose length, or whose geodesic, is the one wanted. */
function alongGrid(bearingDeg: number, wanted: Wanted, from: Station, setup: JoinSetup): Outcome<Place> {
  const { grid, geodesic } = setup;
  const [eastUnit, northUnit] = unitsEastNorth(grid.axes);
  const east = Math.sin(bearingDeg * RADIANS_PER_DEGREE) / eastUnit;
  const north = Math.cos(bearingDeg * RADIANS_PER_DEGREE) / northUnit;
  return lengthen(wanted, wanted.on === 'grid', (lengthM) => {
    const gridFirst = from.gridFirst + lengthM * east;
    const gridSecond = from.gridSecond + lengthM * north;
    const out: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
    const status = grid.inverse(gridFirst, gridSecond, out);
    if (status !== 'ok') return failure(gridProblem(status, { first: gridFirst, second: gridSecond }, grid));
    const place = { latitudeDeg: out.latitudeDeg, longitudeDeg: out.longitudeDeg, gridFirst, gridSecond };
    return success({
      place,
      lengthM: geodesic.distanceM(from.latitudeDeg, from.longitudeDeg, out.latitudeDeg, out.longitudeDeg),
    });
  });
}

/** Tries lengths until the length on the other surface is the one wanted; `direct`: the length tried is it. */
function lengthen(
  wanted: Wanted,
  direct: boolean,
  at: (lengthM: number) => Outcome<{ readonly place: Place; readonly lengthM: number }>,
): Outcome<Place> {
  let tried = wanted.lengthM;
  for (let i = 0; i < MOST_ITERATIONS; i += 1) {
    const end = at(tried);
    if (!end.ok) return end;
    const rest = wanted.lengthM - end.value.lengthM;
    if (direct || wanted.lengthM === 0 || Math.abs(rest) <= SETTLED_M + 4e-16 * wanted.lengthM)
      return success(end.value.place);
    tried += rest * (end.value.lengthM > 0 ? tried / end.value.lengthM : 1);
  }
  return failure(
    errorProblem('method-no-convergence', {
      message: `no end of the line has a length of ${wanted.lengthM} m on the ${wanted.on}`,
      hint: 'check the distance and its unit',
    }),
  );
}
