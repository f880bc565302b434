import type { Network } from '../../../core/network/network.js';
import { nameKey } from '../../../core/numeric/text/name-key.js';
import type { NetworkControlRow, Placed } from '../../../records/network-rows.js';
import { locateProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/**
 * Control that holds nothing, as no observation has its name, though one has it in another writing. Control of other places is usual and
 * nothing is said of it. Warning: value-unknown-id.
 */
export function controlNamesDoubted(
  stated: readonly Placed<NetworkControlRow>[],
  { vectors, levelled, distances }: Pick<Network, 'vectors' | 'levelled' | 'distances'>,
): readonly Problem[] {
  const observed = new Set([...vectors, ...levelled, ...distances].flatMap(({ fromId, toId }) => [fromId, toId]));
  const idle = stated.filter(({ value }) => !observed.has(value.pointId));
  if (idle.length === 0) return [];
  const alike = new Map([...observed].map((id) => [nameKey(id), id]));
  return idle.flatMap(({ value: { pointId }, place }) => {
    const other = alike.get(nameKey(pointId));
    if (other === undefined) return [];
    const problem = warningProblem('value-unknown-id', {
      message: `control ${pointId} holds nothing: no observation has its name`,
      received: pointId,
      hint: `ids are compared letter by letter: is it the observed ${other}?`,
    });
    return [locateProblem(problem, { source: place.source, line: place.line })];
  });
}
