import { largestOf } from '../../../../core/numeric/extremes.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { pushAll } from '../../../../core/numeric/push-all.js';
import { PROBLEM_CODES } from '../../../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../../../records/codes/problem-codes.js';
import type { PointRepeat } from '../../../../tasks/repeats/repeat-pairs.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { repeatSummary } from './repeat-summary.js';

const mm = (metres: number): string => `${formatFixed(metres * 1000, 1)} mm`;
const m = (metres: number): string => `${formatFixed(metres, 3)} m`;
const km = (metres: number): string => `${formatFixed(metres / 1000, 1)} km`;

/** The short account a reduction ends with: counts, the worst, what the base did, what to look at. */
export function reductionSummary(
  totals: ReductionTotals,
  repeats: readonly PointRepeat[],
  notes: readonly string[],
): readonly string[] {
  const { points, epochs } = totals;
  const all = points.accepted + points.review + points.rejected;
  const lines = [
    `${all} ${plural(all, 'point')}: ${points.accepted} accepted, ${points.review} for review, ${points.rejected} rejected`,
    `${epochs.used} ${plural(epochs.used, 'epoch')} used, ${epochs.refused} refused${listOf(totals.refusals)}`,
  ];
  const farthest = totals.farthest();
  if (farthest !== null) lines.push(`farthest baseline ${km(farthest.value)} (${farthest.pointId})`);
  const circle = totals.worstCircle95();
  const vertical = totals.worstVertical95();
  if (circle !== null && vertical !== null) {
    lines.push(
      `largest 95 % circle ${m(circle.value)} (${circle.pointId}), largest 95 % vertical ${m(vertical.value)} (${vertical.pointId})`,
    );
  }
  for (const base of totals.bases.values()) {
    lines.push(
      `base ${base.baseId}: its known coordinate moved every point by ${m(base.movedM)}; adding grid or geodetic differences instead would have cost up to ${mm(base.shortcutErrorM)} at ${km(base.farthestM)}`,
    );
  }
  pushAll(lines, repeatSummary(repeats));
  pushAll(lines, notes);
  if (totals.noted.length > 0) {
    lines.push('to look at next:');
    const width = largestOf(totals.noted.map((point) => point.pointId.length + point.occupation.length + 1));
    for (const point of totals.noted) {
      lines.push(
        `  ${`${point.pointId}@${point.occupation}`.padEnd(width)}  ${point.verdict.padEnd(8)}  ${point.reasons.join(', ')}`,
      );
    }
    const more = points.review + points.rejected - totals.noted.length;
    if (more > 0) lines.push(`  and ${more} more`);
    for (const code of byCount(totals.reasons))
      lines.push(`  ${code}: ${PROBLEM_CODES[code].meaning}; ${PROBLEM_CODES[code].fix}`);
  }
  return lines;
}

function listOf(counts: ReadonlyMap<ProblemCode, number>): string {
  if (counts.size === 0) return '';
  return `: ${byCount(counts)
    .map((code) => `${counts.get(code) ?? 0} ${code}`)
    .join(', ')}`;
}

function byCount(counts: ReadonlyMap<ProblemCode, number>): readonly ProblemCode[] {
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([code]) => code);
}

function plural(count: number, word: string): string {
  return count === 1 ? word : `${word}s`;
}
