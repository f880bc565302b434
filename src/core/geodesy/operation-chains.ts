import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { operationFrameOf } from './operation-frames.js';
import { OPERATIONS, findOperations } from './operations.js';
import type { OperationMatch } from './operations.js';
import type { ShiftFunction } from './shift-definition.js';
import { createShiftFunction } from './shift-function.js';

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
        chains.push({ first, second, through: middle.name, accuracyM: Math.hypot(first.operation.accuracyM, second.operation.accuracyM) });
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

/**
 * A chain made ready for many points; nothing is allocated per point.
 *
 * Given: chain; epoch of the coordinates, decimal year, or null where neither operation changes
 * with time. Both operations are taken at that epoch. Returned: as `createShiftFunction`.
 * Errors: those of `createShiftFunction`.
 */
export function createChainFunction(chain: OperationChain, epochYear: number | null): Outcome<ShiftFunction> {
  const first = createShiftFunction(chain.first.operation.shift, epochYear, chain.first.direction);
  if (!first.ok) return first;
  const second = createShiftFunction(chain.second.operation.shift, epochYear, chain.second.direction);
  if (!second.ok) return second;
  const [one, two] = [first.value, second.value];
  return success((xM, yM, zM, out) => {
    one(xM, yM, zM, out);
    two(out.xM, out.yM, out.zM, out);
  });
}
