import { largestOf, smallestOf } from '../../../numeric/extremes.js';
import { RADIANS_PER_DEGREE } from '../../../numeric/angle-units.js';
import { toGridAxes, gridPattern } from '../observation-list.js';
import type { LocalVector } from '../../../../records/points/point.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { fitWhitened } from '../whitener.js';
import type { Whitener } from '../whitener.js';

/** Largest growth with distance or height that is believed of an atmosphere, ppm. */
const LARGEST_DISTANCE_PPM = 60;
const LARGEST_HEIGHT_PPM = 500;
/** What an ordinary day has of either, one sigma, ppm: no mistake, and not in the noise of single points. Assumptions. */
const ORDINARY_DISTANCE_PPM = 0.5;
const ORDINARY_HEIGHT_PPM = 20;
/** A scale this near the combined factors of the points is taken for one of them, ppm. */
const NEAR_FACTOR_PPM = 20;
/** A stretch about a point not known is one where it is so many sigmas from none. An assumption. */
const SIGNIFICANT_SIGMAS = 3;
/** A combined factor nearer to 1 cannot be told from none. */
const SMALLEST_STRETCH = 1e-6;

/** Causes that grow: with distance or height difference from the base, and ground distances taken for grid distances. */
export function distanceCauses(context: CauseContext): readonly CauseModel[] {
  return [...atmosphereModels(context), ...groundModels(context)];
}

function atmosphereModels({ day, list, hasHorizontal, hasVertical }: CauseContext): readonly CauseModel[] {
  const models: CauseModel[] = [];
  const shared = { subject: '', fixed: null, isWhitened: false } as const;
  const along = gridPattern(day, list, (point): LocalVector | null => {
    if (point.distanceM === null || point.azimuthDeg === null) return null;
    const alpha = point.azimuthDeg * RADIANS_PER_DEGREE;
    const d = point.distanceM * 1e-6;
    return toGridAxes(point, { eastM: d * Math.sin(alpha), northM: d * Math.cos(alpha), upM: 0 });
  });
  const vertical = gridPattern(day, list, (point) =>
    point.distanceM === null ? null : { eastM: 0, northM: 0, upM: point.distanceM * 1e-6 },
  );
  const forms: readonly (readonly [string, readonly (Float64Array | null)[], readonly string[], boolean])[] = [
    ['in plan', [along], ['scale'], hasHorizontal],
    ['in height', [vertical], ['height_slope'], hasVertical],
    ['in plan and height', [along, vertical], ['scale', 'height_slope'], hasHorizontal && hasVertical],
  ];
  for (const [subject, columns, names, isPossible] of forms) {
    const whole = columns.filter((column) => column !== null);
    if (!isPossible || whole.length !== columns.length) continue;
    models.push({
      ...shared,
      cause: 'distance-scale',
      subject,
      columns: whole,
      choices: forms.length,
      ordinary: whole.map(() => ORDINARY_DISTANCE_PPM),
      read: (values, sigmas) =>
        values.some((value) => Math.abs(value) > LARGEST_DISTANCE_PPM)
          ? null
          : names.map((name, i) => ({ name, value: values[i] as number, sigma: sigmas[i] as number, unit: 'ppm' })),
    });
  }
  const climb = gridPattern(day, list, (point) =>
    point.heightDifferenceM === null ? null : { eastM: 0, northM: 0, upM: point.heightDifferenceM * 1e-6 },
  );
  if (hasVertical && climb !== null) {
    models.push({
      ...shared,
      cause: 'height-scale',
      columns: [climb],
      choices: 1,
      ordinary: [ORDINARY_HEIGHT_PPM],
      read: ([slope = 0], [sigma = 0]) =>
        Math.abs(slope) > LARGEST_HEIGHT_PPM ? null : [{ name: 'height_slope', value: slope, sigma, unit: 'ppm' }],
    });
  }
  return models;
}

function groundModels({ day, list, hasHorizontal, whitener }: CauseContext): readonly CauseModel[] {
  const factors = day.points.flatMap((point) => (point.combinedFactor === null ? [] : [point.combinedFactor]));
  if (!hasHorizontal || factors.length !== day.points.length || factors.length === 0) return [];
  const factor = factors.reduce((sum, value) => sum + value, 0) / factors.length;
  const stretch = 1 / factor - 1;
  if (Math.abs(stretch) < SMALLEST_STRETCH) return [];
  const spreadPpm = (largestOf(factors) - smallestOf(factors)) * 1e6;
  // A pair that is not known takes no part, as the pattern leaves it out.
  const middle = middleOf(day.points.map((point) => [point.knownFirstM ?? 0, point.knownSecondM ?? 0]));
  const about = (origin: readonly [number, number], sign: number): Float64Array | null =>
    gridPattern(day, list, (point) => {
      if (point.knownFirstM === null || point.knownSecondM === null) return null;
      const scale = sign > 0 ? stretch : factor - 1;
      return {
        eastM: scale * day.axisSigns[0] * (point.knownFirstM - origin[0]),
        northM: scale * day.axisSigns[1] * (point.knownSecondM - origin[1]),
        upM: 0,
      };
    });
  const east = gridPattern(day, list, () => ({ eastM: 1, northM: 0, upM: 0 }));
  const north = gridPattern(day, list, () => ({ eastM: 0, northM: 1, upM: 0 }));
  const origins = originsOf(day);
  // A measured pair that is its own place's was not stretched.
  const signs = day.isMeasuredSound === true ? [-1] : [1, -1];
  const choices = 2 * signs.length * (origins.length + 1);
  const models: CauseModel[] = [];
  for (const sign of signs) {
    const words = sign > 0 ? 'measured at ground scale' : 'known at ground scale';
    const shared = {
      cause: 'ground-distances',
      isWhitened: false,
      choices,
      read: () => [
        { name: 'scale', value: (sign > 0 ? stretch : factor - 1) * 1e6, sigma: null, unit: 'ppm' as const },
      ],
    } as const;
    const add = (subject: string, origin: readonly [number, number], others: readonly Float64Array[]): void => {
      const fixed = about(origin, sign);
      if (fixed === null) return;
      const isOwn = isMoreThan(others, fixed, whitener);
      if (isOwn) models.push({ ...shared, subject: `${words}, ${subject}`, fixed, columns: others });
      // The factor of one place may have been used for all: its size is then free, within those of the points.
      const nominal = sign > 0 ? stretch : factor - 1;
      models.push({
        ...shared,
        subject: `${words}, ${subject}`,
        fixed: null,
        columns: [fixed.map((value) => (value / nominal) * 1e-6), ...others],
        read: ([ppm = 0], [sigma = 0]) =>
          Math.abs(ppm - nominal * 1e6) > spreadPpm + NEAR_FACTOR_PPM ||
          (others.length > 0 && Math.abs(ppm) < SIGNIFICANT_SIGMAS * sigma)
            ? null
            : [{ name: 'scale', value: ppm, sigma, unit: 'ppm' }],
      });
    };
    for (const [subject, origin] of origins) add(subject, origin, []);
    if (east !== null && north !== null) add('about a point not known', middle, [east, north]);
  }
  return models;
}

/** Whether a pattern is seen on this day beside others whose sizes are free: what they leave of it is beyond the noise. A constant on its own is no stretch. */
function isMoreThan(others: readonly Float64Array[], pattern: Float64Array, whitener: Whitener): boolean {
  if (others.length === 0) return true;
  const fit = fitWhitened(whitener.whiten(pattern), others.map(whitener.whiten));
  return fit !== null && fit.chiSquare > SIGNIFICANT_SIGMAS ** 2;
}

/** Places that ground lengths may have been counted from: the origin of the grid, and each mark that a base stood on. */
function originsOf(day: CauseDay): readonly (readonly [string, readonly [number, number]])[] {
  const out = { first: NaN, second: NaN };
  const setups = [...day.bases.values()];
  const bases = setups
    .filter((base, index) => setups.findIndex(({ markKey }) => markKey === base.markKey) === index)
    .flatMap((base): readonly (readonly [string, readonly [number, number]])[] =>
      day.forward !== null && day.forward(base.latitudeDeg, base.longitudeDeg, out) === 'ok'
        ? [[base.name, [out.first * day.metresPerUnit, out.second * day.metresPerUnit]]]
        : [],
    );
  return [
    ['about the origin of the grid', [0, 0]],
    ...bases.map(([name, origin]) => [`about base ${name}`, origin] as const),
  ];
}

function middleOf(pairs: readonly (readonly [number, number])[]): readonly [number, number] {
  const sum = pairs.reduce<readonly [number, number]>(([a, b], [first, second]) => [a + first, b + second], [0, 0]);
  return [sum[0] / pairs.length, sum[1] / pairs.length];
}
