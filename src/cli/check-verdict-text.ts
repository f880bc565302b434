import { formatFixed } from '../core/numeric/format-fixed.js';
import { leastSquaresLine } from '../core/quality/least-squares-line.js';
import { sampleStatistics } from '../core/quality/sample-statistics.js';
import type { BaseMisclosure } from '../tasks/check-tolerances-repeats.js';
import type { CheckRow } from '../tasks/check-tolerances-setup.js';
import type { StandardStatement } from '../tasks/check-tolerances-standard.js';

/** 95 % limit of χ² with 3 degrees of freedom. */
const CHI_SQUARE_3_95 = 7.814727903251179;

/** The last line: counts and the answer. */
export function verdictLine(rows: readonly CheckRow[], statements: readonly StandardStatement[], refusedFixes: boolean): string {
  const count = (verdict: string): number => rows.filter((row) => row.verdict === verdict).length + statements.filter((statement) => statement.verdict === verdict).length;
  const exceeds = count('exceeds');
  const open = count('not-stated');
  const counts = `${String(count('within'))} within, ${String(exceeds)} beyond, ${String(open)} that cannot be stated`;
  if (exceeds > 0) return `verdict: NOT WITHIN; ${counts}`;
  if (open > 0) return `verdict: CANNOT BE STATED for all; ${counts}`;
  if (refusedFixes) return `verdict: NOT WITHIN; some fixes are refused`;
  // Statements for information judge nothing: without anything within there is no yes to give.
  if (count('within') === 0 && statements.length > 0) return 'verdict: NOTHING JUDGED; no difference was held against a limit';
  return rows.length + statements.length === 0 ? 'verdict: WITHIN' : `verdict: WITHIN; ${counts}`;
}

/** Points measured from two bases: how many misclose, the mean, and the slope with distance, for each pair of bases. */
export function misclosureLines(misclosures: readonly BaseMisclosure[]): readonly string[] {
  const pairs = new Map<string, BaseMisclosure[]>();
  for (const misclosure of misclosures) {
    const [a, b] = misclosure.bases;
    const isTurned = b < a;
    const key = isTurned ? `${b} to ${a}` : `${a} to ${b}`;
    const { eastM, northM, upM } = misclosure.difference;
    const turned = isTurned ? { ...misclosure, difference: { eastM: -eastM, northM: -northM, upM: -upM } } : misclosure;
    pairs.set(key, [...(pairs.get(key) ?? []), turned]);
  }
  return [...pairs].flatMap(([key, list]) => {
    const beyond = list.filter(({ chiSquare }) => chiSquare !== null && chiSquare > CHI_SQUARE_3_95).length;
    const mean = (['eastM', 'northM', 'upM'] as const).map((axis) => sampleStatistics(list.map(({ difference }) => difference[axis])).mean);
    const [east = 0, north = 0, up = 0] = mean.map((value) => value * 1000);
    const placed = list.flatMap(({ difference, distanceM }) => (distanceM === null ? [] : [{ up: difference.upM, km: distanceM / 1000 }]));
    const slope = leastSquaresLine(placed.map((entry) => entry.up), [placed.map((entry) => entry.km)])?.terms[1];
    const slopeText = slope === undefined ? '' : `, height slope ${formatFixed(slope.estimate * 1000, 2)} ± ${formatFixed(slope.halfWidth95 * 1000, 2)} mm/km`;
    return [`  bases ${key}: ${String(list.length)} ${list.length === 1 ? 'point' : 'points'}, ${String(beyond)} beyond χ² 7.81; mean east ${formatFixed(east, 1)}, north ${formatFixed(north, 1)}, height ${formatFixed(up, 1)} mm${slopeText}`];
  });
}
