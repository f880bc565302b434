import type { CauseContext, CauseFamily } from '../cause-context.js';
import type { JointFinding } from '../cause-finding.js';
import { isAlike, openFirst, rankCauses, searchForms, sumOfSquares, without } from '../form-search.js';
import type { Found } from '../form-search.js';
import { chanceBeside } from '../long-tails.js';

/** Two causes fitted together. */
export interface FoundPair {
  readonly together: readonly JointFinding[];
  readonly gain: number;
}

/** First causes that a second is sought beside: the best forms, so many of one cause at most. */
const MOST_FIRSTS = 8;
const MOST_OF_ONE_CAUSE = 3;

/**
 * Two causes on one day: beside each of the likeliest single forms the best second one, then the best first one beside
 * that, both fitted together and each beyond chance beside the other.
 *
 * Given: the forms that gain alone; the families a first and a second cause may come from. Returned: the pair that gains
 * most and leaves noise alone; null where there is none.
 */
export function twoCauses(
  found: readonly Found[],
  context: CauseContext,
  firsts: readonly CauseFamily[],
  seconds: readonly CauseFamily[],
): FoundPair | null {
  const before = sumOfSquares(context.values);
  const rank = (families: readonly CauseFamily[], beside: Found): readonly Found[] =>
    rankCauses(searchForms(families, without(context, beside)).found);
  let best: FoundPair | null = null;
  for (const start of startsOf(found)) {
    const sought = openFirst(rank(seconds, start));
    if (sought === undefined) continue;
    const rankedFirsts = rank(firsts, sought);
    const first = openFirst(rankedFirsts);
    if (first === undefined) continue;
    const rankedSeconds = rank(seconds, first);
    const second = openFirst(rankedSeconds);
    if (second?.finding.explains !== true) continue;
    const gain = before - second.finding.chiSquareAfter - first.penalty - second.penalty;
    // The first needs any gain.
    if (gain <= (best?.gain ?? 0)) continue;
    best = { gain, together: [jointOf(first, rankedFirsts, context), jointOf(second, rankedSeconds, context)] };
  }
  return best;
}

function jointOf(one: Found, ranked: readonly Found[], context: CauseContext): JointFinding {
  const tied = [one, ...ranked.slice(1).filter((other) => isAlike(one, other))];
  const alike = [...tied.slice(1).map(({ finding }) => finding), ...chanceBeside(tied, context)];
  return { finding: one.finding, alike: alike.map(({ cause }) => cause) };
}

function startsOf(found: readonly Found[]): readonly Found[] {
  const counts = new Map<string, number>();
  return found
    .filter(({ finding }) => finding.isOpen)
    .sort((a, b) => b.finding.gain - a.finding.gain)
    .filter(({ finding }) => {
      const count = (counts.get(finding.cause) ?? 0) + 1;
      counts.set(finding.cause, count);
      return count <= MOST_OF_ONE_CAUSE;
    })
    .slice(0, MOST_FIRSTS);
}
