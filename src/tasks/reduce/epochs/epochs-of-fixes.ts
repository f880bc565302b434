import { refusals } from '../../../core/observation/stand-tests/acceptance.js';
import type { Fix } from '../../../records/points/fix.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { derivedList } from '../packing/packed-records.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedEpoch } from '../reduction-working.js';
import { reduceEpoch } from './reduce-epoch.js';

/** Every fix at the tip of its pole. */
export function reducedOf(
  fixes: RecordList<Fix>,
  base: PreparedBase | null,
  setup: ReductionSetup,
): RecordList<ReducedEpoch> {
  const only = fixes.length === 1 ? fixes.at(0) : undefined;
  // Of one fix no function is made: most points of a large file are such.
  return only === undefined ? manyReduced(fixes, base, setup) : [reduceEpoch(only, base, setup)];
}

function manyReduced(
  fixes: RecordList<Fix>,
  base: PreparedBase | null,
  setup: ReductionSetup,
): RecordList<ReducedEpoch> {
  return derivedList(fixes, (fix) => reduceEpoch(fix, base, setup));
}

/** Why each fix is refused. */
export function refusalsOf(
  fixes: RecordList<Fix>,
  { acceptance }: ReductionSetup,
  limitM: number | null,
): RecordList<readonly ProblemCode[]> {
  const only = fixes.length === 1 ? fixes.at(0) : undefined;
  return only === undefined ? manyRefusals(fixes, acceptance, limitM) : [refusals(only, acceptance, limitM)];
}

function manyRefusals(
  fixes: RecordList<Fix>,
  acceptance: ReductionSetup['acceptance'],
  limitM: number | null,
): RecordList<readonly ProblemCode[]> {
  return derivedList(fixes, (fix) => refusals(fix, acceptance, limitM));
}
