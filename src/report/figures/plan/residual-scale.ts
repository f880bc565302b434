import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { fixed } from '../../page/words/numbers.js';
import { groundLength } from './plan-frame.js';
import { roundBelow } from '../scales.js';
import type { SymbolName } from '../shapes.js';
import type { MarkClass } from '../thinned.js';

/** So many circles about residuals can be told apart: of more, on the plan only those that fail show their limit and how sure they are. */
export const MOST_CIRCLES = 60;
const LONGEST_PX = 44;
/** A circle may be so many times as large. */
const WIDER = 1.5;
/** Half of the last decimal that is printed: shorter residuals are the noise of arithmetic, and no arrow shows them. */
const LEAST_DRAWN_M = 5e-5;

/** A residual in plan, along the axes of the system, at the place of its point. */
export interface ResidualVector {
  readonly place: ReportPlace;
  readonly name: string;
  /** Null: not compared in plan; the point stands alone. */
  readonly residual: ReportPlace | null;
  /** Radius of its 95 % circle, and its limit, metres; null: none is stated, or set. */
  readonly circle95M: number | null;
  readonly limitM: number | null;
  readonly symbol: SymbolName;
  readonly classes: MarkClass;
  /** Of the arrow, where the point fails for another reason than its residual in plan; absent: that of the mark. */
  readonly arrow?: MarkClass;
}

/** Whether a residual shows its limit and how sure it is. Given: how many are drawn. */
export function hasCircles({ classes }: ResidualVector, count: number): boolean {
  return count <= MOST_CIRCLES || classes === 'bad';
}

/** Corners of what arrows and circles take on the ground beside their points, so that a plan has room for all of it. */
export function reaches(
  vectors: readonly ResidualVector[],
  [across, up]: readonly [ReportAxis, ReportAxis],
  factor: number | null,
): readonly ReportPlace[] {
  if (factor === null) return [];
  return vectors.flatMap((vector) => {
    const { place, residual, circle95M, limitM } = vector;
    if (residual === null) return [];
    const end = { first: place.first + factor * residual.first, second: place.second + factor * residual.second };
    const isRinged = hasCircles(vector, vectors.length);
    const around = ({ first, second }: ReportPlace, radiusM: number | null): readonly ReportPlace[] => {
      // What has no circle takes no more than its own place.
      const grown = isRinged ? factor * (radiusM ?? 0) : 0;
      return [1, -1].map((side) => ({
        first: first + (side * grown) / across.metresPerUnit,
        second: second + (side * grown) / up.metresPerUnit,
      }));
    };
    return [...around(place, limitM), ...around(end, circle95M)];
  });
}

/** The round factor that draws the longest residual well visible; null where no arrow can show it, and in words. */
export function exaggerationOf(
  vectors: readonly ResidualVector[],
  [across, up]: readonly [ReportAxis, ReportAxis],
  pixelsPerMetre: number,
): { readonly factor: number | null; readonly words: string } {
  let longestM = 0;
  let widestM = 0;
  for (const vector of vectors) {
    const { residual, circle95M, limitM } = vector;
    if (residual === null) continue;
    longestM = Math.max(
      longestM,
      Math.hypot(residual.first * across.metresPerUnit, residual.second * up.metresPerUnit),
    );
    // What is not stated or set has no circle.
    if (hasCircles(vector, vectors.length)) widestM = Math.max(widestM, circle95M ?? 0, limitM ?? 0);
  }
  if (longestM < LEAST_DRAWN_M) return { factor: null, words: '' };
  const factor = roundBelow(LONGEST_PX / (Math.max(longestM, widestM / WIDER) * pixelsPerMetre));
  if (factor < 1)
    return {
      factor: null,
      words: `. No arrows: the longest residual, ${groundLength(longestM)}, is too long beside the ground shown`,
    };
  return {
    factor,
    words: factor === 1 ? ', drawn as long as they are on the ground' : `, drawn ${fixed(factor, 0)} times too long`,
  };
}
