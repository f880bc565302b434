import type { LocalCovariance } from '../../../records/points/point.js';
import { pushAll } from '../../numeric/push-all.js';
import { correlationAfter, isTimed, middleMs, sharedErrors } from '../repeats/occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from '../repeats/occupation-estimate.js';

/**
 * One occupation in its turn: what is common to it and others, as blocks of three unknowns each. A block is used for another
 * error once nothing that follows sees the one it held.
 */
export interface JointStep {
  /** Place among the estimates. */
  readonly index: number;
  readonly estimate: OccupationEstimate;
  /** Correlation of the slow errors with those of the step before, in plan and height. */
  readonly rhoHorizontal: number;
  readonly rhoVertical: number;
  /** Blocks of the slow error, of the one that grows with the baseline, and of each error shared with others. */
  readonly blocks: readonly [number, number, ...number[]];
  /** Blocks first seen here: what they are, and the covariance they start from. */
  readonly begins: readonly BlockBegin[];
  /** Blocks that nothing after this step sees. */
  readonly ends: readonly number[];
}

export interface BlockBegin {
  readonly block: number;
  /** Changes with time as a slow error of unit variance does; null covariance then. */
  readonly isSlow: boolean;
  readonly covariance: LocalCovariance | null;
}

export interface JointSteps {
  readonly steps: readonly JointStep[];
  /** Most blocks in use at once. */
  readonly blockCount: number;
}

const SLOW = 'slow';

/** An error by its name, and what it starts from; null: of unit variance, and changing with time. */
type NamedError = readonly [string, LocalCovariance | null];

/**
 * The occupations of a point in the order of time, with the errors that each shares with others.
 *
 * Given: estimates; correlation times; whether slow errors are new at each occupation where not all times are stated, else
 * they are the same throughout. Returned: one step an occupation.
 *
 * Notes: one covariance for one mark and for one set-up, the first's, however slightly it turned between occupations.
 */
export function jointSteps(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
  isNewWithoutTimes: boolean,
): JointSteps {
  const timed = estimates.every(isTimed);
  const order = estimates.map((_, index) => index);
  const middles = estimates.map((estimate) => (timed ? middleMs(estimate) : 0));
  order.sort((a, b) => (middles[a] as number) - (middles[b] as number) || a - b);
  const errorsOf = (estimate: OccupationEstimate): readonly NamedError[] => [
    [SLOW, null],
    [JSON.stringify(['growing', estimate.markKey]), null],
    ...sharedErrors(estimate),
  ];
  const lastUse = new Map<string, number>();
  order.forEach((index, place) => {
    for (const [error] of errorsOf(estimates[index] as OccupationEstimate)) lastUse.set(error, place);
  });
  const blockOf = new Map<string, number>();
  const free: number[] = [];
  let blockCount = 0;
  const steps = order.map((index, place): JointStep => {
    const estimate = estimates[index] as OccupationEstimate;
    const begins: BlockBegin[] = [];
    const ends: number[] = [];
    const errors = errorsOf(estimate);
    const blocks = errors.map(([error, covariance]) => {
      let block = blockOf.get(error);
      if (block === undefined) {
        block = free.pop() ?? blockCount;
        if (block === blockCount) blockCount += 1;
        blockOf.set(error, block);
        begins.push({ block, isSlow: covariance === null, covariance });
      }
      return block;
    });
    errors.forEach(([error], kind) => {
      if (lastUse.get(error) !== place) return;
      ends.push(blocks[kind] as number);
      blockOf.delete(error);
    });
    pushAll(free, ends);
    const agoS =
      place === 0 ? 0 : ((middles[index] as number) - (middles[order[place - 1] as number] as number)) / 1000;
    const rho = (tauS: number): number => (timed ? correlationAfter(agoS, tauS) : isNewWithoutTimes ? 0 : 1);
    return {
      index,
      estimate,
      rhoHorizontal: rho(times.correlationHorizontalS),
      rhoVertical: rho(times.correlationVerticalS),
      blocks: blocks as unknown as JointStep['blocks'],
      begins,
      ends,
    };
  });
  return { steps, blockCount };
}
