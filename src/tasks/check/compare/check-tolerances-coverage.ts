import type { LimitRule } from '../../../core/quality/standards/limit-rule.js';
import type { CheckKind, CheckRow } from '../judge/check-tolerances-setup.js';
import type { StandardStatement } from '../judge/check-tolerances-standard-statement.js';

/** In how many comparisons of a kind plan and height could be compared, and what no limit could be held against. */
export interface CheckCoverage {
  readonly line: string | null;
  readonly statements: readonly StandardStatement[];
}

/**
 * What was compared at all. A limit whose axis was compared nowhere cannot be stated: a file whose coordinates were not
 * understood must never pass for want of differences.
 */
export function checkCoverage(rows: Iterable<CheckRow>, kind: CheckKind, rules: readonly LimitRule[]): CheckCoverage {
  let [own, plan, height] = [0, 0, 0];
  for (const { check, firstM, secondM, upM } of rows) {
    if (check !== kind) continue;
    own += 1;
    if (firstM !== null && secondM !== null) plan += 1;
    if (upM !== null) height += 1;
  }
  if (plan === own && height === own) return { line: null, statements: [] };
  const limited = (isUp: boolean): boolean => rules.some(({ axis }) => (axis === 'up') === isUp);
  const lacking = [
    ...(plan === 0 && limited(false) ? [['plan', 'coordinates'] as const] : []),
    ...(height === 0 && limited(true) ? [['height', 'heights of one kind'] as const] : []),
  ];
  return {
    line: `  compared in plan ${String(plan)} of ${String(own)}, in height ${String(height)} of ${String(own)}`,
    statements: lacking.map(([axis, what]) => ({
      what: `${kind}, limit in ${axis}`,
      text: `cannot be stated: no comparison has ${what} on both sides`,
      verdict: 'not-stated',
      mend: `Give the ${kind} and the points ${what}, or map their columns`,
    })),
  };
}
