import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { PointRepeat } from '../../../../tasks/repeats/repeat-pairs.js';

/** Points named one by one; the rest are counted. */
const MOST_NAMED = 20;

/** What the comparison of repeats found: how many were compared, and of each point that disagrees which occupation is odd. */
export function repeatSummary(repeats: readonly PointRepeat[]): readonly string[] {
  if (repeats.length === 0) return [];
  const bad = repeats.filter(({ test }) => test.disagrees);
  const lines = [
    `${repeats.length} ${repeats.length === 1 ? 'point was' : 'points were'} occupied more than once: ${bad.length === 0 ? 'all agree' : `${bad.length} ${bad.length === 1 ? 'disagrees' : 'disagree'}`}, by one test of each point at 1 % over all of them`,
  ];
  for (const { pointId, occupations, test } of bad.slice(0, MOST_NAMED)) {
    const odd = test.odd === null ? null : occupations[test.odd];
    const which =
      odd !== null && odd !== undefined
        ? `occupation ${odd} stands apart, the others agree`
        : occupations.length === 2
          ? 'which of the two is wrong, two cannot say'
          : 'none alone explains it';
    lines.push(
      `repeat of ${pointId}: ${occupations.length} occupations, χ² ${formatFixed(test.chiSquare, 1)} with ${test.degreesOfFreedom} degrees of freedom, limit ${formatFixed(test.limit, 1)}; ${which}`,
    );
  }
  if (bad.length > MOST_NAMED) lines.push(`and ${bad.length - MOST_NAMED} points more`);
  return lines;
}

/** A warning for each point whose occupations disagree, where they are not joined. */
export function repeatWarnings(repeats: readonly PointRepeat[]): readonly Problem[] {
  return repeats.flatMap(({ pointId, occupations, test }) => {
    if (!test.disagrees) return [];
    const odd = test.odd === null ? undefined : occupations[test.odd];
    return [
      warningProblem('point-repeat-disagrees', {
        message: `the ${String(occupations.length)} occupations of ${pointId} disagree${odd === undefined ? '' : `; occupation ${odd} stands apart`}`,
        hint: 'find out which is wrong, or occupy the point once more; their rows are for review',
      }),
    ];
  });
}
