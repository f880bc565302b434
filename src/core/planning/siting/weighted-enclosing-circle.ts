import { InternalError } from '../../../records/internal-error.js';

/** The planar answer: centre, the largest ratio of distance to range there, and the points that attain it. */
export interface WeightedEnclosingCircle {
  readonly x: number;
  readonly y: number;
  /** max |centre − p_i| / r_i. */
  readonly ratio: number;
  /** One to three indices: the points that hold the centre in place. */
  readonly support: readonly number[];
}

interface Trial {
  readonly x: number;
  readonly y: number;
  readonly ratio: number;
}

/** A point covered to this relative amount counts as covered. */
const SLACK = 1e-13;

/**
 * The point of the plane whose largest ratio of distance to range, over all given points, is
 * smallest. With equal ranges it is the centre of the smallest enclosing circle.
 *
 * Given: coordinates and ranges in one unit, ranges > 0, at least one point.
 * Returned: see `WeightedEnclosingCircle`. Exact up to rounding: the answer is always that of some
 * one, two or three points, and each turn replaces the present ones by those of the four that
 * include the point now worst served. The ratio grows at every turn, so the search ends; when
 * rounding stops the growth the present answer is returned. No random order: the same input gives
 * the same answer.
 *
 * Reference: MSW-1996 (problems of this kind have a basis of at most three points in the plane); the
 * replacement by the worst point is the simplex idea.
 */
export function weightedEnclosingCircle(
  x: Float64Array,
  y: Float64Array,
  range: Float64Array,
): WeightedEnclosingCircle {
  if (x.length === 0) throw new InternalError('weightedEnclosingCircle needs a point');
  let support: readonly number[] = [0];
  let best: Trial = { x: x[0] as number, y: y[0] as number, ratio: 0 };
  for (let turn = 0; turn < 1000; turn += 1) {
    const worst = worstServed(x, y, range, best);
    if (worst.ratio <= best.ratio * (1 + SLACK) || support.includes(worst.index)) break;
    const next = bestOfFour([...support, worst.index], x, y, range);
    if (next === null || next.trial.ratio <= best.ratio) break;
    best = next.trial;
    support = next.support;
  }
  return { x: best.x, y: best.y, ratio: Math.max(best.ratio, worstServed(x, y, range, best).ratio), support };
}

function worstServed(
  x: Float64Array,
  y: Float64Array,
  range: Float64Array,
  at: Trial,
): { readonly index: number; readonly ratio: number } {
  let index = 0;
  let ratio = -1;
  for (let i = 0; i < x.length; i += 1) {
    const dx = (x[i] as number) - at.x;
    const dy = (y[i] as number) - at.y;
    const trial = Math.sqrt(dx * dx + dy * dy) / (range[i] as number);
    if (trial > ratio) {
      ratio = trial;
      index = i;
    }
  }
  return { index, ratio };
}

/** Among all one-, two- and three-point answers of up to four points, the smallest that covers them all. */
function bestOfFour(
  indices: readonly number[],
  x: Float64Array,
  y: Float64Array,
  range: Float64Array,
): { readonly trial: Trial; readonly support: readonly number[] } | null {
  let best: { trial: Trial; support: readonly number[] } | null = null;
  for (let mask = 1; mask < 1 << indices.length; mask += 1) {
    const subset = indices.filter((_, bit) => (mask & (1 << bit)) !== 0);
    if (subset.length > 3) continue;
    for (const trial of trialsOf(subset, x, y, range)) {
      if (best !== null && trial.ratio >= best.trial.ratio) continue;
      const covers = indices.every(
        (i) =>
          Math.hypot((x[i] as number) - trial.x, (y[i] as number) - trial.y) <=
          trial.ratio * (range[i] as number) * (1 + 1e-9) + Number.MIN_VALUE,
      );
      if (covers) best = { trial, support: subset };
    }
  }
  return best;
}

/** The places where all points of a subset are equally well served and which can be its optimum. */
function trialsOf(subset: readonly number[], x: Float64Array, y: Float64Array, range: Float64Array): readonly Trial[] {
  const [i, j, k] = subset as readonly [number, number?, number?];
  const x1 = x[i] as number;
  const y1 = y[i] as number;
  const r1 = range[i] as number;
  if (j === undefined) return [{ x: x1, y: y1, ratio: 0 }];
  const dx = (x[j] as number) - x1;
  const dy = (y[j] as number) - y1;
  const r2 = range[j] as number;
  if (k === undefined) {
    const share = r1 / (r1 + r2);
    return [{ x: x1 + dx * share, y: y1 + dy * share, ratio: Math.hypot(dx, dy) / (r1 + r2) }];
  }
  const ex = (x[k] as number) - x1;
  const ey = (y[k] as number) - y1;
  const r3 = range[k] as number;
  return equallyServed(dx, dy, ex, ey, r1, r2, r3).map((t) => ({ x: x1 + t.x, y: y1 + t.y, ratio: t.ratio }));
}

/**
 * Points u (relative to the first of three) with |u| = λ r1, |u − d| = λ r2, |u − e| = λ r3.
 * Differences of the squares are linear in u and t = λ²: u = a + b t, and |u|² = t r1² is a
 * quadratic in t.
 */
function equallyServed(
  dx: number,
  dy: number,
  ex: number,
  ey: number,
  r1: number,
  r2: number,
  r3: number,
): readonly Trial[] {
  const determinant = 2 * (dx * ey - dy * ex);
  const size = Math.hypot(dx, dy) * Math.hypot(ex, ey);
  if (Math.abs(determinant) <= 1e-14 * size) return [];
  const d2 = dx * dx + dy * dy;
  const e2 = ex * ex + ey * ey;
  const p = r1 * r1 - r2 * r2;
  const q = r1 * r1 - r3 * r3;
  const ax = (d2 * ey - e2 * dy) / determinant;
  const ay = (e2 * dx - d2 * ex) / determinant;
  const bx = (p * ey - q * dy) / determinant;
  const by = (q * dx - p * ex) / determinant;
  const a = bx * bx + by * by;
  const halfB = ax * bx + ay * by - (r1 * r1) / 2;
  const c = ax * ax + ay * ay;
  const roots: number[] = [];
  const discriminant = halfB * halfB - a * c;
  if (discriminant >= 0) {
    // halfB < 0 wherever a positive root exists, so −halfB + √… loses no digits.
    const large = -halfB + Math.sqrt(discriminant);
    if (large > 0) {
      roots.push(c / large);
      if (a > 0) roots.push(large / a);
    }
  }
  return roots
    .filter((t) => Number.isFinite(t) && t > 0)
    .map((t) => ({ x: ax + bx * t, y: ay + by * t, ratio: Math.sqrt(t) }));
}
