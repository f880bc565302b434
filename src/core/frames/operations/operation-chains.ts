import { operationFrameOf } from './operation-frames.js';
import { OPERATIONS, findOperations } from './operations.js';
import type { OperationMatch } from './operations.js';

/** Two operations that lead through a frame between. */
export interface OperationChain {
  readonly first: OperationMatch;
  readonly second: OperationMatch;
  /** Name of the frame between. */
  readonly through: string;
  /** Root of the sum of squares of the two stated accuracies, metres. */
  readonly accuracyM: number;
}

/**
 * Pairs of built-in operations that join two systems which no single one joins, such as ITRF2020 to
 * GDA2020 through ITRF2014.
 *
 * Given: codes of two geographic or geocentric systems. Returned: chains of two, the most accurate
 * first, then by the code numbers; empty where `findOperations` finds a direct one or no pair fits.
 * Errors: none.
 *
 * Note: WGS 84 is never the frame between. Its code stands for several realisations, so two
 * operations that end in it need not meet.
 */
export function findOperationChains(fromCode: string, toCode: string): readonly OperationChain[] {
  const from = operationFrameOf(fromCode);
  const to = operationFrameOf(toCode);
  if (from === null || to === null || from === to || findOperations(fromCode, toCode).length > 0) return [];
  const chains: OperationChain[] = [];
  for (const middle of new Set(OPERATIONS.flatMap((operation) => [operation.from, operation.to]))) {
    if (middle === from || middle === to || middle.name === 'WGS 84' || middle.geographic2d === null) continue;
    for (const first of findOperations(fromCode, middle.geographic2d)) {
      for (const second of findOperations(middle.geographic2d, toCode)) {
        chains.push({
          first,
          second,
          through: middle.name,
          accuracyM: Math.hypot(first.operation.accuracyM, second.operation.accuracyM),
        });
      }
    }
  }
  return chains.sort(
    (a, b) =>
      a.accuracyM - b.accuracyM ||
      a.first.operation.codeNumber - b.first.operation.codeNumber ||
      a.second.operation.codeNumber - b.second.operation.codeNumber,
  );
}
