import { geocentricToGeodetic, geodeticToGeocentric } from '../../../ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../../ellipsoid/local-frame.js';
import type { ShiftFunction } from '../../../frames/shifts/shift-definition.js';
import type { GeocentricPoint, GeodeticPoint, LocalVector } from '../../../../records/points/point.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay, CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import type { FrameShift } from './frame-shift.js';
import { gridPattern, toGridAxes } from '../observation-list.js';

/** Patterns nearer than this everywhere are one, metres. */
const SAME_PATTERN_M = 0.001;

/** One way in which a shift may have been missed: what it makes of each known point. */
interface Form {
  readonly words: string;
  /** A plain slip: all measured or all known values in the other frame. The rest are rarer and pay for being many. */
  readonly isPlain: boolean;
  readonly at: (point: CausePoint) => LocalVector | null;
}

/**
 * Causes of another datum: each published shift, missed in the measured values or in the known ones, as positions or as
 * values of the same grid on the other ellipsoid, or missed at the base alone; with heights shifted or kept. Nothing is
 * estimated.
 */
export function datumCauses(context: CauseContext): readonly CauseModel[] {
  const { day, list } = context;
  if (!context.hasHorizontal) return [];
  const found: {
    readonly words: string;
    readonly isPlain: boolean;
    readonly pattern: Float64Array;
    readonly planM: number;
    readonly upM: number;
  }[] = [];
  for (const shift of day.frameShifts) {
    for (const { words, isPlain, at } of [...positionForms(day, shift), ...baseForms(day, shift)]) {
      for (const isKept of [false, true]) {
        const vectors = day.points.map(at).filter((vector) => vector !== null);
        if (vectors.length !== day.points.length) continue;
        // A vector is given at every point, so the pattern is whole.
        const pattern = gridPattern(day, list, (_, index) =>
          kept(vectors[index] as LocalVector, isKept),
        ) as Float64Array;
        if (found.some((other) => isSame(other.pattern, pattern))) continue;
        found.push({
          words: `${words} (${shift.source})${isKept && context.hasVertical ? ', heights kept' : ''}`,
          isPlain: isPlain && !isKept,
          pattern,
          planM: mean(vectors.map((vector) => Math.hypot(vector.eastM, vector.northM))),
          upM: isKept ? 0 : mean(vectors.map((vector) => vector.upM)),
        });
      }
    }
  }
  return found.map(({ words, isPlain, pattern, planM, upM }) => ({
    cause: 'datum',
    subject: words,
    fixed: pattern,
    columns: [],
    isWhitened: false,
    choices: isPlain ? found.filter((form) => form.isPlain).length : found.length,
    read: () => [
      { name: 'in_plan', value: planM, sigma: null, unit: 'm' },
      ...(upM === 0 || !context.hasVertical
        ? []
        : [{ name: 'in_height', value: upM, sigma: null, unit: 'm' as const }]),
    ],
  }));
}

function kept(vector: LocalVector, isKept: boolean): LocalVector {
  return isKept ? { ...vector, upM: 0 } : vector;
}

function isSame(a: Float64Array, b: Float64Array): boolean {
  return a.every((value, i) => Math.abs(value - (b[i] as number)) < SAME_PATTERN_M);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function through(run: ShiftFunction, place: GeocentricPoint): GeocentricPoint {
  const out = { xM: NaN, yM: NaN, zM: NaN };
  run(place.xM, place.yM, place.zM, out);
  return out;
}

/** Measured or known values that belong to the other frame, projected by the system's grid or by the other's. */
function positionForms(day: CauseDay, shift: FrameShift): readonly Form[] {
  const { forward } = day;
  if (forward === null) return [];
  const out = { first: NaN, second: NaN };
  const write = (point: CausePoint, place: GeodeticPoint, upM: number, project: typeof forward): LocalVector | null => {
    if (
      point.knownFirstM === null ||
      point.knownSecondM === null ||
      project(place.latitudeDeg, place.longitudeDeg, out) !== 'ok'
    )
      return null;
    return {
      eastM: day.axisSigns[0] * (out.first * day.metresPerUnit - point.knownFirstM),
      northM: day.axisSigns[1] * (out.second * day.metresPerUnit - point.knownSecondM),
      upM,
    };
  };
  const measured =
    (project: typeof forward) =>
    (point: CausePoint): LocalVector | null => {
      const place = placeOf(point, day);
      if (place === null) return null;
      const other = geocentricToGeodetic(
        through(shift.toOther, geodeticToGeocentric(place, day.ellipsoid)),
        shift.ellipsoid,
      );
      return write(point, other, other.ellipsoidalHeightM - place.ellipsoidalHeightM, project);
    };
  const known =
    (inverse: CauseDay['inverse']) =>
    (point: CausePoint): LocalVector | null => {
      const place = inverse === null ? placeOf(point, day) : inverted(point, inverse, day);
      if (place === null) return null;
      const own = geocentricToGeodetic(
        through(shift.toOwn, geodeticToGeocentric(place, shift.ellipsoid)),
        day.ellipsoid,
      );
      return write(point, own, own.ellipsoidalHeightM - place.ellipsoidalHeightM, forward);
    };
  const { name, grid } = shift;
  const forms: Form[] = [
    { words: `the measured values are in ${name}`, isPlain: true, at: measured(forward) },
    { words: `the known values are in ${name}`, isPlain: true, at: known(null) },
  ];
  if (grid === null) return forms;
  return [
    ...forms,
    { words: `the measured values are of the same grid on ${name}`, isPlain: false, at: measured(grid.forward) },
    { words: `the known values are of the same grid on ${name}`, isPlain: false, at: known(grid.inverse) },
  ];
}

/** A base given in the other frame: one geocentric vector for all points. */
function baseForms(day: CauseDay, shift: FrameShift): readonly Form[] {
  const base = baseOf(day);
  if (base === null) return [];
  const at = geodeticToGeocentric(base, day.ellipsoid);
  const other = through(shift.toOther, at);
  const own = through(shift.toOwn, at);
  const form = (words: string, place: GeocentricPoint): Form => {
    const vector = { xM: place.xM - at.xM, yM: place.yM - at.yM, zM: place.zM - at.zM };
    const local = geocentricToLocal(localFrameAt(base.latitudeDeg, base.longitudeDeg), vector);
    const flat = localToGeocentric(localFrameAt(base.latitudeDeg, base.longitudeDeg), { ...local, upM: 0 });
    return {
      words,
      isPlain: false,
      at: (point) => {
        if (point.latitudeDeg === null || point.longitudeDeg === null) return null;
        const here = localFrameAt(point.latitudeDeg, point.longitudeDeg);
        const plan = geocentricToLocal(here, flat);
        return toGridAxes(point, { eastM: plan.eastM, northM: plan.northM, upM: geocentricToLocal(here, vector).upM });
      },
    };
  };
  return [
    form(`the base was given in ${shift.name}, geocentric`, other),
    form(
      `the base was given in ${shift.name}, as latitude and longitude`,
      geodeticToGeocentric(geocentricToGeodetic(other, shift.ellipsoid), day.ellipsoid),
    ),
    form(`the base was shifted from ${shift.name} once too often`, own),
  ];
}

function placeOf(point: CausePoint, day: CauseDay): GeodeticPoint | null {
  if (point.latitudeDeg === null || point.longitudeDeg === null) return null;
  return { latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: heightOf(point, day) };
}

function inverted(point: CausePoint, inverse: NonNullable<CauseDay['inverse']>, day: CauseDay): GeodeticPoint | null {
  const out = { latitudeDeg: NaN, longitudeDeg: NaN };
  if (point.knownFirstM === null || point.knownSecondM === null) return null;
  if (inverse(point.knownFirstM / day.metresPerUnit, point.knownSecondM / day.metresPerUnit, out) !== 'ok') return null;
  return { ...out, ellipsoidalHeightM: heightOf(point, day) };
}

/** Of a day of one point or more. */
function baseOf(day: CauseDay): GeodeticPoint | null {
  const first = day.points[0] as CausePoint;
  const base = first.baseId === null ? undefined : day.bases.get(first.baseId);
  const place = placeOf(first, day);
  return base === undefined
    ? place
    : { latitudeDeg: base.latitudeDeg, longitudeDeg: base.longitudeDeg, ellipsoidalHeightM: heightOf(first, day) };
}

function heightOf(point: CausePoint, day: CauseDay): number {
  // A height that is not known takes no part: a shift of datum hardly depends on it.
  return (point.knownHeightM ?? 0) + (day.heightKind === 'orthometric' ? (point.geoidHeightM ?? 0) : 0);
}
