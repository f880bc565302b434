import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { nearestWord } from '../../numeric/text/nearest-word.js';
import type { Operation } from './operation-definition.js';
import { operationFrameOf } from './operation-frames.js';
import { operationFromStaticRow, operationFromTimeDependentRow } from './operation-from-row.js';
import { CONTINENTAL_ROWS } from './operation-table-continental.js';
import { ITRF_ROWS } from './operation-table-itrf.js';
import { AUSTRALIAN_ROWS, STATIC_ROWS } from './operation-table-regional.js';
import type { ShiftDirection } from '../shifts/shift-definition.js';

/** The built-in operations, in the order of their code numbers. */
export const OPERATIONS: readonly Operation[] = [
  ...STATIC_ROWS.map((row) => operationFromStaticRow(row)),
  ...AUSTRALIAN_ROWS.map((row) => operationFromTimeDependentRow(row, 1056, row.area)),
  ...CONTINENTAL_ROWS.map((row) => operationFromTimeDependentRow(row, row.method, row.area)),
  ...ITRF_ROWS.map((row) => operationFromTimeDependentRow(row, 1053, null)),
].sort((a, b) => a.codeNumber - b.codeNumber);

/** An operation and the direction that leads from the first system asked for to the second. */
export interface OperationMatch {
  readonly operation: Operation;
  readonly direction: ShiftDirection;
}

/**
 * The built-in operation of a code.
 *
 * Given: `EPSG:n`; case does not matter. Returned: the operation. Errors: operation-unknown, with
 * the nearest code that exists.
 *
 * @example
 * operationByCode('epsg:1504').value.code; // 'EPSG:1504'
 */
export function operationByCode(code: string): Outcome<Operation> {
  const wanted = code.trim().toUpperCase();
  for (const operation of OPERATIONS) if (operation.code === wanted) return success(operation);
  const near = nearestWord(
    wanted,
    OPERATIONS.map((operation) => operation.code),
    2,
  );
  const nearest = OPERATIONS.find((operation) => operation.code === near);
  return failure(
    errorProblem('operation-unknown', {
      message: `no built-in operation has the code ${code}`,
      received: code,
      hint:
        nearest === undefined
          ? 'give the parameters in a file with --shift'
          : `the nearest is ${nearest.code}, ${nearest.name}; or give the parameters in a file with --shift`,
    }),
  );
}

/**
 * The built-in operations between two systems, forward and inverse.
 *
 * Given: codes of two geographic or geocentric systems; the 2D, 3D and geocentric codes of a frame
 * count as one. Returned: matches, the most accurate first, then forward before inverse, then by
 * code number; empty where none joins the two, and where both belong to one frame (no operation is
 * needed: see `sameOperationFrame`). Errors: none.
 *
 * @example
 * findOperations('EPSG:4222', 'EPSG:4148').map(({ operation, direction }) => [operation.code, direction]); // [['EPSG:1504', 'forward']]
 */
export function findOperations(fromCode: string, toCode: string): readonly OperationMatch[] {
  const from = operationFrameOf(fromCode);
  const to = operationFrameOf(toCode);
  if (from === null || to === null || from === to) return [];
  const matches: OperationMatch[] = [];
  for (const operation of OPERATIONS) {
    if (operation.from === from && operation.to === to) matches.push({ operation, direction: 'forward' });
    else if (operation.reversible && operation.from === to && operation.to === from) {
      matches.push({ operation, direction: 'inverse' });
    }
  }
  return matches.sort(compareMatches);
}

/**
 * Whether two codes are systems of one frame, so that no operation is needed between them.
 *
 * Given: codes. Returned: true for equal codes, and for two codes of one frame in the table.
 */
export function sameOperationFrame(codeA: string, codeB: string): boolean {
  if (codeA === codeB) return true;
  const a = operationFrameOf(codeA);
  return a !== null && a === operationFrameOf(codeB);
}

function compareMatches(a: OperationMatch, b: OperationMatch): number {
  return (
    a.operation.accuracyM - b.operation.accuracyM ||
    Number(a.direction === 'inverse') - Number(b.direction === 'inverse') ||
    a.operation.codeNumber - b.operation.codeNumber
  );
}
