import { InternalError } from '../../records/internal-error.js';
import type { LocalCovariance, LocalVector } from '../../records/point.js';
import { choleskyFactor, choleskySolve } from '../numeric/linear-solve.js';
import { inverse3 } from '../numeric/symmetric3.js';
import type { Matrix3 } from '../numeric/symmetric3.js';
import { correlationAfter, middleSeparationS, slowCross } from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

/** Several occupations of a point as one. */
export interface CombinedOccupations {
  /** About the origin of the estimates, metres. */
  readonly position: LocalVector;
  /** m²; the base's error and the correlation of slow errors included, the geoid not. */
  readonly covariance: LocalCovariance;
  /** What each occupation is multiplied by in the sum; together they are the unit matrix. */
  readonly weights: readonly Matrix3[];
  /** Weighted sum of squared residuals, and its degrees of freedom, 3(k − 1). */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
}

/** Positions are recorded to about a tenth of a millimetre; keeps every covariance invertible, m². */
export const RECORDING_VARIANCE_M2 = 1e-8;

/** Per occupation, the error of its mark and of its set-up as all that share it see it, m². */
export interface SharedErrors {
  readonly marks: readonly LocalCovariance[];
  readonly setups: readonly LocalCovariance[];
}

/** One matrix for one mark and one set-up, however slightly its covariance turned between occupations: the first's. */
export function sharedErrors(estimates: readonly OccupationEstimate[]): SharedErrors {
  const byMark = new Map<string | null, { readonly mark: LocalCovariance; readonly setups: Map<string | null, LocalCovariance> }>();
  const marks: LocalCovariance[] = [];
  const setups: LocalCovariance[] = [];
  for (const { mark, setup, markKey, setupKey } of estimates) {
    const known = byMark.get(markKey) ?? { mark, setups: new Map<string | null, LocalCovariance>() };
    byMark.set(markKey, known);
    const own = known.setups.get(setupKey) ?? setup;
    known.setups.set(setupKey, own);
    marks.push(known.mark);
    setups.push(own);
  }
  return { marks, setups };
}

function fill(
  matrix: Float64Array,
  size: number,
  estimates: readonly OccupationEstimate[],
  shared: SharedErrors,
  times: CorrelationTimes,
): void {
  const timed = estimates.every((estimate) => estimate.startMs !== null && estimate.endMs !== null);
  estimates.forEach((a, i) => {
    for (let j = 0; j <= i; j += 1) {
      const b = estimates[j] as OccupationEstimate;
      const isSameMark = a.markKey === b.markKey;
      const mark = shared.marks[j] as LocalCovariance;
      const setup = shared.setups[j] as LocalCovariance;
      const s = isSameMark ? 1 : 0;
      const t = isSameMark && a.setupKey === b.setupKey ? 1 : 0;
      const put = (row: number, column: number, value: number): void => {
        matrix[(3 * i + row) * size + 3 * j + column] = value;
      };
      const own = i === j ? 1 : 0;
      const separationS = timed ? (middleSeparationS(a, b) as number) : 0;
      const rhoH = timed ? correlationAfter(separationS, times.correlationHorizontalS) : 1;
      const rhoV = timed ? correlationAfter(separationS, times.correlationVerticalS) : 1;
      const diagonal = (key: 'eeM2' | 'nnM2' | 'uuM2', rho: number): number =>
        own * (a.independent[key] + RECORDING_VARIANCE_M2) +
        slowCross(a.correlated[key], b.correlated[key], a.baseline[key], b.baseline[key], i === j ? 1 : rho, isSameMark) +
        s * mark[key] + t * setup[key];
      const other = (key: 'enM2' | 'euM2' | 'nuM2'): number =>
        own * (a.independent[key] + a.correlated[key] + a.baseline[key]) + s * mark[key] + t * setup[key];
      put(0, 0, diagonal('eeM2', rhoH));
      put(1, 1, diagonal('nnM2', rhoH));
      put(2, 2, diagonal('uuM2', rhoV));
      put(0, 1, other('enM2'));
      put(1, 0, other('enM2'));
      put(0, 2, other('euM2'));
      put(2, 0, other('euM2'));
      put(1, 2, other('nuM2'));
      put(2, 1, other('nuM2'));
    }
  });
}

/**
 * Joins the occupations of a point by their full covariance: x̂ = (AᵀC⁻¹A)⁻¹AᵀC⁻¹x with covariance
 * (AᵀC⁻¹A)⁻¹, A stacking unit matrices. Between occupations i and j, C holds σᵢσⱼ exp(−|tᵢ − tⱼ|/τ) for
 * the slow errors (those that grow with the baseline only from one mark), the error of a shared mark and that of a
 * shared set-up; noise and pole belong to each alone.
 *
 * Given: at least one estimate, all about one origin; correlation times. Returned: see
 * `CombinedOccupations`. Call `repeatTest` first: this joins what it is given. `splitCombined` says what
 * the covariance is made of.
 *
 * Notes:
 * 1. The cross covariance of two means is reckoned between their middles, which is exact for windows
 *    short against τ or against their separation.
 * 2. Where any time is not stated, all slow errors are taken as fully correlated, the safe side.
 * 3. Time grows with the cube of the count; thousands of occupations of one point are not its use.
 *
 * Reference: generalised least squares, AITKEN-1935.
 */
export function combineOccupations(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
): CombinedOccupations {
  const count = estimates.length;
  if (count === 0) throw new InternalError('no occupations to combine');
  const size = 3 * count;
  const matrix = new Float64Array(size * size);
  fill(matrix, size, estimates, sharedErrors(estimates), times);
  const factor = choleskyFactor(matrix, size);
  if (factor === null) throw new InternalError('the covariance of occupations is not positive definite');
  const columns = [0, 1, 2].map((axis) => {
    const unit = new Float64Array(size);
    for (let i = 0; i < count; i += 1) unit[3 * i + axis] = 1;
    return choleskySolve(factor, size, unit);
  });
  const values = Float64Array.from(
    estimates.flatMap(({ position }) => [position.eastM, position.northM, position.upM]),
  );
  const normal = (row: number, column: number): number => {
    let sum = 0;
    for (let i = 0; i < count; i += 1) sum += (columns[column] as Float64Array)[3 * i + row] as number;
    return sum;
  };
  const inverse = inverse3({
    xx: normal(0, 0),
    xy: normal(0, 1),
    xz: normal(0, 2),
    yy: normal(1, 1),
    yz: normal(1, 2),
    zz: normal(2, 2),
  });
  if (inverse === null) throw new InternalError('the normal equations of occupations are singular');
  const right = columns.map((column) => column.reduce((sum, weight, i) => sum + weight * (values[i] as number), 0));
  const [r0 = 0, r1 = 0, r2 = 0] = right;
  const position: LocalVector = {
    eastM: inverse.xx * r0 + inverse.xy * r1 + inverse.xz * r2,
    northM: inverse.xy * r0 + inverse.yy * r1 + inverse.yz * r2,
    upM: inverse.xz * r0 + inverse.yz * r1 + inverse.zz * r2,
  };
  const estimate = [position.eastM, position.northM, position.upM];
  const residuals = values.map((value, i) => value - (estimate[i % 3] as number));
  const weighted = choleskySolve(factor, size, residuals);
  const { xx, xy, xz, yy, yz, zz } = inverse;
  const rows = [[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]] as const;
  const weight = (i: number, row: 0 | 1 | 2, column: 0 | 1 | 2): number => rows[row].reduce((sum, value, axis) => sum + value * ((columns[axis] as Float64Array)[3 * i + column] as number), 0);
  return {
    position,
    weights: estimates.map((_, i) => ({
      xx: weight(i, 0, 0), xy: weight(i, 0, 1), xz: weight(i, 0, 2),
      yx: weight(i, 1, 0), yy: weight(i, 1, 1), yz: weight(i, 1, 2),
      zx: weight(i, 2, 0), zy: weight(i, 2, 1), zz: weight(i, 2, 2),
    })),
    covariance: {
      eeM2: inverse.xx,
      enM2: inverse.xy,
      euM2: inverse.xz,
      nnM2: inverse.yy,
      nuM2: inverse.yz,
      uuM2: inverse.zz,
    },
    chiSquare: residuals.reduce((sum, residual, i) => sum + residual * (weighted[i] as number), 0),
    degreesOfFreedom: 3 * (count - 1),
  };
}
