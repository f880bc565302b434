import type { VectorObservation } from '../../../core/network/network.js';
import { locateProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { Placed } from '../../../records/network-rows.js';

/**
 * Takes out vectors that are there twice, number for number, as they stand or from the other end: one measurement that was pasted
 * twice, or exported both ways, would count twice and check itself.
 *
 * Given: vectors, those that say the same one after the other. Returned: each once, and a warning for each one more.
 */
export function withoutCopies(vectors: readonly Placed<VectorObservation>[]): {
  readonly vectors: readonly Placed<VectorObservation>[];
  readonly problems: readonly Problem[];
} {
  const problems: Problem[] = [];
  const starts = new Set<string>();
  for (const { value } of vectors) starts.add(value.fromId);
  const remembered = new Map<string, Placed<VectorObservation>>();
  let before: Placed<VectorObservation> | null = null;
  const kept = vectors.filter((one) => {
    const { value } = one;
    // Of a line of which no vector comes back there is nothing to remember.
    const isBothWays = starts.has(value.toId);
    const turned = isBothWays ? remembered.get(keyOf(value, -1)) : undefined;
    const first =
      before !== null && isSame(before.value, value)
        ? before
        : turned !== undefined && isTurned(turned.value, value)
          ? turned
          : null;
    if (first !== null) {
      problems.push(copied(one, first));
      return false;
    }
    before = one;
    if (isBothWays) remembered.set(keyOf(value, 1), one);
    return true;
  });
  return problems.length === 0 ? { vectors, problems } : { vectors: kept, problems };
}

function copied({ value, place }: Placed<VectorObservation>, { place: first }: Placed<VectorObservation>): Problem {
  return locateProblem(
    warningProblem('network-copied', {
      message: `vector ${value.fromId} to ${value.toId} is that of ${first.source} line ${String(first.line)}, number for number`,
      hint: 'it counts once; where both were measured, say so by day or base_setup',
    }),
    { source: place.source, line: place.line },
  );
}

/** What a vector from `sign` of its ends is found by. */
function keyOf({ fromId, toId, difference: { xM, yM, zM } }: VectorObservation, sign: 1 | -1): string {
  return JSON.stringify(sign === 1 ? [fromId, toId, xM, yM, zM] : [toId, fromId, 0 - xM, 0 - yM, 0 - zM]);
}

/** The same measurement in the same words. */
function isSame(a: VectorObservation, b: VectorObservation): boolean {
  const { xM, yM, zM } = a.difference;
  return (
    a.fromId === b.fromId &&
    a.toId === b.toId &&
    xM === b.difference.xM &&
    yM === b.difference.yM &&
    zM === b.difference.zM &&
    JSON.stringify([a.covariance, a.shared, a.day]) === JSON.stringify([b.covariance, b.shared, b.day])
  );
}

/** One of two vectors between the same places, each the other's with the sign turned: set-ups have other names at the other end. */
function isTurned(a: VectorObservation, b: VectorObservation): boolean {
  return a.day === b.day && JSON.stringify(numbersOf(a)) === JSON.stringify(numbersOf(b));
}

/** A covariance as it was written: local ones say the station they start from, which is the other end of one turned. */
function numbersOf({ covariance }: VectorObservation): unknown {
  return 'local' in covariance ? covariance.local : covariance;
}
