import type { LocalCovariance } from '../../../records/points/point.js';
import { pushAll } from '../../numeric/push-all.js';
import { correlationAfter, isTimed, middleMs } from '../repeats/occupation-estimate.js';
import { entryAt } from '../../../records/present.js';
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
  const numbers = createErrorNumbers();
  const errors = order.map((index) => errorsOf(estimates[index] as OccupationEstimate, numbers));
  const lastUse: number[] = [];
  errors.forEach((own, place) => {
    for (const { error } of own) lastUse[error] = place;
  });
  const { blocksOf, blockCount } = createBlocks(lastUse);
  const steps = order.map((index, place): JointStep => {
    const agoS =
      place === 0 ? 0 : ((middles[index] as number) - (middles[order[place - 1] as number] as number)) / 1000;
    const rho = (tauS: number): number => (timed ? correlationAfter(agoS, tauS) : isNewWithoutTimes ? 0 : 1);
    return {
      index,
      estimate: estimates[index] as OccupationEstimate,
      rhoHorizontal: rho(times.correlationHorizontalS),
      rhoVertical: rho(times.correlationVerticalS),
      ...blocksOf(entryAt(errors, place), place),
    };
  });
  return { steps, blockCount: blockCount() };
}

/** An error by its number among those of the point, and what it starts from; null: of unit variance, and changing with time. */
interface NumberedError {
  readonly error: number;
  readonly covariance: LocalCovariance | null;
}

/** The slow error that does not grow. */
const SLOW: NumberedError = Object.freeze({ error: 0, covariance: null });

/** The errors of an occupation: the slow one, the one that grows, its mark's, its set-up's, and those of marks that its own was measured from. */
function errorsOf(
  { markKey, setupKey, mark, setup, inherited }: OccupationEstimate,
  { ofMark, ofSetup }: ErrorNumbers,
): readonly NumberedError[] {
  const first = ofMark(markKey);
  const errors: NumberedError[] = [
    SLOW,
    { error: first, covariance: null },
    { error: first + 1, covariance: mark },
    { error: ofSetup(markKey, setupKey), covariance: setup },
  ];
  // Absent: no mark is inherited.
  if (inherited !== undefined)
    for (const own of inherited) errors.push({ error: ofMark(own.markKey) + 1, covariance: own.covariance });
  return errors;
}

/** The errors that occupations share by numbers: those of one mark, and of one set-up, are one. */
export interface ErrorNumbers {
  /** The number of what grows with the baseline from a mark; that of the mark itself is the next. */
  readonly ofMark: (markKey: string | null) => number;
  readonly ofSetup: (markKey: string | null, setupKey: string | null) => number;
}

/** No error but the slow one, which is 0. */
export function createErrorNumbers(): ErrorNumbers {
  const marks = new Map<string | null, number>();
  const setups = new Map<string | null, Map<string | null, number>>();
  let next = 1;
  return {
    ofMark(markKey) {
      const known = marks.get(markKey);
      if (known !== undefined) return known;
      marks.set(markKey, next);
      next += 2;
      return next - 2;
    },
    ofSetup(markKey, setupKey) {
      let own = setups.get(markKey);
      if (own === undefined) setups.set(markKey, (own = new Map<string | null, number>()));
      const known = own.get(setupKey);
      if (known !== undefined) return known;
      own.set(setupKey, next);
      next += 1;
      return next - 1;
    },
  };
}

/** Gives blocks to errors as they are seen first, and takes them back after the last. Given: by error, the place of its last step. */
function createBlocks(lastUse: readonly number[]): {
  readonly blocksOf: (errors: readonly NumberedError[], place: number) => Pick<JointStep, 'blocks' | 'begins' | 'ends'>;
  readonly blockCount: () => number;
} {
  const blockOf: (number | undefined)[] = [];
  const free: number[] = [];
  let blockCount = 0;
  return {
    blockCount: () => blockCount,
    blocksOf(errors, place) {
      const begins: BlockBegin[] = [];
      const ends: number[] = [];
      const blocks: number[] = [];
      for (const { error, covariance } of errors) {
        let block = blockOf[error];
        if (block === undefined) {
          block = free.pop() ?? blockCount;
          if (block === blockCount) blockCount += 1;
          blockOf[error] = block;
          begins.push({ block, isSlow: covariance === null, covariance });
        }
        blocks.push(block);
      }
      for (const [kind, { error }] of errors.entries()) {
        if (lastUse[error] !== place) continue;
        ends.push(blocks[kind] as number);
        blockOf[error] = undefined;
      }
      pushAll(free, ends);
      return { blocks: blocks as unknown as JointStep['blocks'], begins, ends };
    },
  };
}
