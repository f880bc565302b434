import { geocentricToGeodetic, geodeticToGeocentric } from '../../geodesy/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../geodesy/local-frame.js';
import { plateVelocity } from '../../geodesy/plate-motion.js';
import { PLATE_POLES } from '../../geodesy/plate-pole.js';
import type { GeocentricPoint, LocalVector } from '../../../records/point.js';
import type { CauseContext } from './cause-context.js';
import type { CausePoint } from './cause-day.js';
import type { CauseModel } from './cause-model.js';
import { isNearPlate } from './plate-boxes.js';
import { gridPattern, toGridAxes } from './observation-list.js';

/** Longest span of years, and shortest, that is believed. */
const LONGEST_YEARS = 60;
const SHORTEST_YEARS = 0.5;
/** A shift of a datum smaller than this is no other datum, metres. */
const SMALLEST_SHIFT_M = 0.5;

/** Causes in the frame: the known shift between two datums, and the motion of a plate over some years. */
export function frameCauses(context: CauseContext): readonly CauseModel[] {
  const { day, list, hasHorizontal } = context;
  if (!hasHorizontal) return [];
  const models: CauseModel[] = [];
  const local = (at: (place: GeocentricPoint) => GeocentricPoint): Float64Array | null => gridPattern(day, list, (point) => localOf(point, at, context));
  const shift = day.datumShiftM;
  if (shift !== null && Math.hypot(...shift) >= SMALLEST_SHIFT_M) {
    for (const sign of [1, -1]) {
      const vector = { xM: sign * shift[0], yM: sign * shift[1], zM: sign * shift[2] };
      const fixed = gridPattern(day, list, (point) => shiftedOf(point, vector, context)) ?? local(() => vector);
      if (fixed === null) break;
      models.push({
        cause: 'datum',
        subject: sign > 0 ? 'measured in WGS 84, known in the datum of the system' : 'measured in the datum of the system, known in WGS 84',
        fixed,
        columns: [],
        isWhitened: false,
        choices: 2,
        read: () => [{ name: 'shift', value: Math.hypot(...shift), sigma: null, unit: 'm' }],
      });
    }
  }
  const poles = PLATE_POLES.filter((pole) => isNearPlate(pole.code, day.points[0] ?? null));
  for (const pole of poles) {
    const perYear = local((place) => {
      const velocity = plateVelocity(place, pole);
      return { xM: velocity.xMPerYear, yM: velocity.yMPerYear, zM: velocity.zMPerYear };
    });
    if (perYear === null) break;
    models.push({
      cause: 'epoch',
      subject: `${pole.name} plate`,
      fixed: null,
      columns: [perYear],
      isWhitened: false,
      choices: poles.length,
      read: ([years = 0], [sigma = 0]) => (Math.abs(years) > LONGEST_YEARS || Math.abs(years) < SHORTEST_YEARS ? null : [{ name: 'years', value: years, sigma, unit: 'years' }]),
    });
  }
  return models;
}

/** A datum's shift taken exactly, through the grid; null without a grid. */
function shiftedOf(point: CausePoint, vector: GeocentricPoint, { day }: CauseContext): LocalVector | null {
  if (day.forward === null || point.latitudeDeg === null || point.longitudeDeg === null || point.knownFirstM === null || point.knownSecondM === null) return null;
  const heightM = ellipsoidalHeightOf(point, day.heightKind);
  const place = geodeticToGeocentric({ latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: heightM }, day.ellipsoid);
  const moved = geocentricToGeodetic({ xM: place.xM + vector.xM, yM: place.yM + vector.yM, zM: place.zM + vector.zM }, day.ellipsoid);
  const out = { first: 0, second: 0 };
  if (day.forward(moved.latitudeDeg, moved.longitudeDeg, out) !== 'ok') return null;
  return {
    eastM: day.axisSign * (out.first * day.metresPerUnit - point.knownFirstM),
    northM: day.axisSign * (out.second * day.metresPerUnit - point.knownSecondM),
    upM: moved.ellipsoidalHeightM - heightM,
  };
}

function ellipsoidalHeightOf(point: CausePoint, kind: 'orthometric' | 'ellipsoidal' | null): number {
  return (point.knownHeightM ?? 0) + (kind === 'orthometric' ? (point.geoidHeightM ?? 0) : 0);
}

function localOf(point: CausePoint, at: (place: GeocentricPoint) => GeocentricPoint, { day }: CauseContext): LocalVector | null {
  if (point.latitudeDeg === null || point.longitudeDeg === null) return null;
  const place = geodeticToGeocentric({ latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: ellipsoidalHeightOf(point, day.heightKind) }, day.ellipsoid);
  return toGridAxes(point, geocentricToLocal(localFrameAt(point.latitudeDeg, point.longitudeDeg), at(place)));
}
