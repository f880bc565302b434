import type { VectorObservation } from '../../core/network/network.js';
import { locateProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { Placed } from '../../records/network-rows.js';
import { entryAt } from '../../records/present.js';

/**
 * Vectors that are there twice, number for number, as they stand or from the other end: one measurement that was pasted twice, or
 * exported both ways, counts twice, and sigmas come out too small.
 *
 * Given: vectors, those that say the same one after the other. Returned: a warning for each one more.
 */
export function copiedVectors(vectors: readonly Placed<VectorObservation>[]): readonly Problem[] {
  const found: Problem[] = [];
  const starts = new Set<string>();
  for (const { value } of vectors) starts.add(value.fromId);
  const turned = new Map<string, Placed<VectorObservation>>();
  vectors.forEach((one, at) => {
    const { value } = one;
    const before = at > 0 ? entryAt(vectors, at - 1) : null;
    // Of a line of which no vector comes back there is nothing to remember.
    const isBothWays = starts.has(value.toId);
    const other =
      before !== null && isSame(before.value, value, 1)
        ? before
        : isBothWays
          ? turned.get(keyOf(value, -1))
          : undefined;
    if (other !== undefined && isSame(other.value, value, other === before ? 1 : -1)) found.push(copied(one, other));
    else if (isBothWays) turned.set(keyOf(value, 1), one);
  });
  return found;
}

function copied({ value, place }: Placed<VectorObservation>, { place: first }: Placed<VectorObservation>): Problem {
  return locateProblem(
    warningProblem('network-copied', {
      message: `vector ${value.fromId} to ${value.toId} is that of ${first.source} line ${String(first.line)}, number for number`,
      hint: 'one measurement counts twice, and sigmas are too small: leave one of the two out, unless both were measured',
    }),
    { source: place.source, line: place.line },
  );
}

/** What a vector from `sign` of its ends is found by. */
function keyOf({ fromId, toId, difference: { xM, yM, zM } }: VectorObservation, sign: 1 | -1): string {
  return JSON.stringify(sign === 1 ? [fromId, toId, xM, yM, zM] : [toId, fromId, 0 - xM, 0 - yM, 0 - zM]);
}

function isSame(a: VectorObservation, b: VectorObservation, sign: 1 | -1): boolean {
  const [from, to] = sign === 1 ? [b.fromId, b.toId] : [b.toId, b.fromId];
  if (a.fromId !== from || a.toId !== to) return false;
  const { xM, yM, zM } = b.difference;
  if (a.difference.xM !== sign * xM || a.difference.yM !== sign * yM || a.difference.zM !== sign * zM) return false;
  return a.day === b.day && JSON.stringify(a.covariance) === JSON.stringify(b.covariance);
}
