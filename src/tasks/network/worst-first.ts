import type { NetworkObservationResult } from '../../records/reports/network-report.js';
import type { NetworkResults } from './network-results.js';

/** Tests over their limit that agree to a millionth are the same but for rounding, and stay in the order of the network. */
const ALIKE = 1e-6;

/**
 * Observations that do not agree with the others, the one that stands out most first: a single blunder makes many beside it fail, and
 * of all of them its own test is the largest.
 *
 * Given: what a run says of its network. Returned: see above, by test over its limit; those alike in the order of the network.
 * Reference: BAARDA-1968.
 */
export function worstFirst({
  adjusted: { free },
  observations,
}: Pick<NetworkResults, 'adjusted' | 'observations'>): readonly NetworkObservationResult[] {
  const excessOf = ({ kind, blockTest }: NetworkObservationResult): number => {
    const limit = free.limits.block(kind === 'vector' ? 3 : 1);
    // Without a test or a limit nothing says how far it stands out.
    return blockTest === null || limit === null ? 0 : Math.round(blockTest / limit / ALIKE);
  };
  return observations
    .filter(({ reasons }) => reasons.includes('network-observation'))
    .map((row) => ({ row, excess: excessOf(row) }))
    .sort((a, b) => b.excess - a.excess)
    .map(({ row }) => row);
}

/**
 * What to make of several that fail; null: not as many do.
 *
 * Note: without one observation the sum of squares is less by its test, so that it is known without another adjustment whether
 * it alone explains all.
 */
export function foulSentence(
  foul: readonly NetworkObservationResult[],
  { freeTest: { weightedSquares, limits } }: NetworkResults['adjusted'],
): string | null {
  const [worst] = foul;
  if (worst === undefined || foul.length === 1) return null;
  const alone = `${worst.kind} ${worst.fromId} to ${worst.toId}`;
  const advice = '--exclude-outliers leaves out one at a time, and takes in again what then agrees';
  return worst.blockTest !== null && limits !== null && weightedSquares - worst.blockTest <= limits[1]
    ? `${alone} alone explains all ${String(foul.length)}: without it the rest would agree; ${advice}`
    : `the worst stands first: one wrong observation makes others fail; ${advice}`;
}
