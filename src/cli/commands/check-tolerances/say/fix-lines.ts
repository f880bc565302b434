import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { PROBLEM_CODES } from '../../../../records/codes/problem-codes.js';
import type { FixCounts } from '../../../../tasks/check/count-fixes.js';
import type { StandCounts } from '../../../../tasks/repeats/screen-stands.js';

/** Stands named beside a code. */
const MOST_NAMED = 6;

/** One line for each refusal code, most first, with the stands it was given at, and one of the whole. */
export function fixLines(counts: FixCounts): readonly string[] {
  const lines = (kind: StandCounts, of: (stands: ReadonlyMap<string, number>) => number): readonly string[] =>
    [...kind]
      .sort((a, b) => of(b[1]) - of(a[1]) || (a[0] < b[0] ? -1 : 1))
      .map(([code, stands]) => `  ${String(of(stands))} ${code}: ${PROBLEM_CODES[code].meaning}; ${named(stands)}`);
  const sumOf = (stands: ReadonlyMap<string, number>): number =>
    [...stands.values()].reduce((sum, count) => sum + count, 0);
  const share = counts.seen === 0 ? '' : ` (${formatFixed((100 * counts.accepted) / counts.seen, 1)} %)`;
  const whole = lines(counts.stands, (stands) => stands.size);
  return [
    `fixes: ${String(counts.accepted)} of ${String(counts.seen)} accepted${share}`,
    ...lines(counts.epochs, sumOf),
    `stands: ${String(counts.standCount)}${whole.length === 0 ? '' : ', of which'}`,
    ...whole,
  ];
}

/** The stands with most first: each with its count. */
function named(stands: ReadonlyMap<string, number>): string {
  const ranked = [...stands].sort((a, b) => b[1] - a[1]);
  const shown = ranked.slice(0, MOST_NAMED).map(([name, count]) => `${name} ${String(count)}`);
  return `${shown.join(', ')}${ranked.length > MOST_NAMED ? ` and ${String(ranked.length - MOST_NAMED)} stands more` : ''}`;
}
