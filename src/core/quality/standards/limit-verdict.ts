import { limitAt } from './limit-rule.js';
import type { LimitAxis, LimitRule, LimitTerm } from './limit-rule.js';

/** One comparison: value, limit, margin, and the term that governed. */
export interface LimitVerdict {
  readonly limitName: string;
  readonly axis: LimitAxis;
  readonly probability: number | null;
  readonly valueM: number;
  /** Null: the rule needs a distance that is not known. */
  readonly limitM: number | null;
  /** Limit minus value; negative when exceeded. */
  readonly marginM: number | null;
  readonly governedBy: LimitTerm | null;
  readonly verdict: 'within' | 'exceeds' | 'not-stated';
}

/** A difference to be judged, metres; the axes are those of the grid, or east and north. */
export interface JudgedDifference {
  readonly firstM: number | null;
  readonly secondM: number | null;
  readonly upM: number | null;
}

/** Verdicts of every rule that can be applied to the difference; a rule whose axis has no value is left out. */
export function limitVerdicts(
  difference: JudgedDifference,
  distanceM: number | null,
  rules: readonly LimitRule[],
): readonly LimitVerdict[] {
  const verdicts: LimitVerdict[] = [];
  for (const rule of rules) {
    const valueM = valueOf(difference, rule.axis);
    if (valueM !== null) verdicts.push(verdictBy(rule, valueM, limitAt(rule, distanceM)));
  }
  return verdicts;
}

function verdictBy(
  { name: limitName, axis, probability }: LimitRule,
  valueM: number,
  limit: ReturnType<typeof limitAt>,
): LimitVerdict {
  if (limit === null)
    return {
      limitName,
      axis,
      probability,
      valueM,
      limitM: null,
      marginM: null,
      governedBy: null,
      verdict: 'not-stated',
    };
  const { limitM, governedBy } = limit;
  // A value equal to its limit passes, also when both carry the rounding of sums.
  const isWithin = valueM <= limitM * (1 + 4 * Number.EPSILON);
  return {
    limitName,
    axis,
    probability,
    valueM,
    limitM,
    marginM: limitM - valueM,
    governedBy,
    verdict: isWithin ? 'within' : 'exceeds',
  };
}

function valueOf(difference: JudgedDifference, axis: LimitAxis): number | null {
  const { firstM, secondM, upM } = difference;
  if (axis === 'up') return upM === null ? null : Math.abs(upM);
  if (firstM === null || secondM === null) return null;
  return axis === '2d' ? Math.hypot(firstM, secondM) : Math.max(Math.abs(firstM), Math.abs(secondM));
}
