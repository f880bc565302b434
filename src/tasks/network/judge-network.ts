import { geocentricToLocal } from '../../core/ellipsoid/local-frame.js';
import type { AdjustedNetwork } from '../../core/network/adjust-network.js';
import type { BlockTests } from '../../core/network/evidence/block-tests.js';
import { isMeasured } from '../../core/network/equations/equation-origins.js';
import type { EquationOrigin } from '../../core/network/equations/equation-origins.js';
import { leftOutOf } from '../../core/network/evidence/judge-observations.js';
import { localCovarianceOf } from '../../core/network/equations/relative-accuracy.js';
import { varianceComponents } from '../../core/network/evidence/variance-components.js';
import { InternalError } from '../../records/internal-error.js';
import { entryAt } from '../../records/present.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type {
  NetworkComponent,
  NetworkControlResult,
  NetworkObservationResult,
  NetworkParameter,
} from '../../records/reports/network-report.js';
import type { Answer } from '../../records/runs/run-answer.js';

/** The measured observations after the adjustment, kind after kind in the network's order. */
export function networkObservations({
  network,
  free,
  final,
  excluded,
}: AdjustedNetwork): readonly NetworkObservationResult[] {
  const [inFree, inFinal] = [free.solved.built.origins, final.solved.built.origins];
  const isOut = leftOutOf(excluded).has;
  const one = (
    kind: NetworkObservationResult['kind'],
    index: number,
    fromId: string,
    toId: string,
  ): NetworkObservationResult => {
    const common = { kind, index, fromId, toId };
    if (isOut(kind, index))
      return {
        ...common,
        residualsM: [],
        redundancy: [],
        w: [],
        blockTest: null,
        estimatedBiasM: [],
        verdict: 'no',
        reasons: ['network-excluded'],
      };
    const at = inFinal.equationOf(kind, index);
    const judged = inFree.equationOf(kind, index);
    const judgedDirections = entryAt(free.tests.checkedDirections, judged);
    const limit = judgedDirections === 0 ? null : free.limits.block(judgedDirections);
    const isFoul = limit !== null && entryAt(free.tests.blockTest, judged) > limit;
    const whole = { tests: final.tests, equation: at };
    const isUnchecked = checkedIn(whole) < sizeIn(whole);
    const verdict = isFoul ? 'no' : isUnchecked ? 'review' : 'within';
    // What only control checks is not judged in the free network; the whole says the most that is known of it.
    const judge = judgedDirections === 0 ? whole : { tests: free.tests, equation: judged };
    return new MeasuredResult(common, verdict, isFoul ? FOUL : isUnchecked ? UNCHECKED : NO_REASONS, whole, judge);
  };
  return [
    ...network.vectors.map(({ fromId, toId }, index) => one('vector', index, fromId, toId)),
    ...network.levelled.map(({ fromId, toId }, index) => one('levelled', index, fromId, toId)),
    ...network.distances.map(({ fromId, toId }, index) => one('distance', index, fromId, toId)),
  ];
}

type Named = Pick<NetworkObservationResult, 'kind' | 'index' | 'fromId' | 'toId'>;

/** Where the numbers of an observation stand among those of one solution. */
interface Place {
  readonly tests: BlockTests;
  readonly equation: number;
}

const checkedIn = ({ tests, equation }: Place): number => entryAt(tests.checkedDirections, equation);
const sizeIn = ({ tests, equation }: Place): number =>
  entryAt(tests.rowStarts, equation + 1) - entryAt(tests.rowStarts, equation);
function numbersIn({ tests: { rowStarts }, equation }: Place, array: Float64Array): readonly number[] {
  const numbers: number[] = [];
  // Not spread: an iterator of each observation would take longer than all else that is written of it.
  for (let at = entryAt(rowStarts, equation); at < entryAt(rowStarts, equation + 1); at += 1)
    numbers.push(entryAt(array, at));
  return numbers;
}

/**
 * An observation after the adjustment, whose numbers are read where they stand when they are asked for: as lists, those of all observations would take more room than the adjustment itself.
 * Residuals, redundancies and w are those of the whole; the test that judges it, and what others say of it, those of the network that no control has bent.
 */
// eslint-disable-next-line no-restricted-syntax -- getters on one prototype: closures of each observation would take more room than the adjustment
class MeasuredResult implements NetworkObservationResult {
  readonly kind: NetworkObservationResult['kind'];
  readonly index: number;
  readonly fromId: string;
  readonly toId: string;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
  readonly #whole: Place;
  readonly #judge: Place;

  constructor(
    { kind, index, fromId, toId }: Named,
    verdict: Answer,
    reasons: readonly ProblemCode[],
    whole: Place,
    judge: Place,
  ) {
    this.kind = kind;
    this.index = index;
    this.fromId = fromId;
    this.toId = toId;
    this.verdict = verdict;
    this.reasons = reasons;
    this.#whole = whole;
    this.#judge = judge;
  }

  get residualsM(): readonly number[] {
    return numbersIn(this.#whole, this.#whole.tests.residuals);
  }

  get redundancy(): readonly number[] {
    return numbersIn(this.#whole, this.#whole.tests.redundancy);
  }

  get w(): readonly (number | null)[] {
    return numbersIn(this.#whole, this.#whole.tests.w).map((w) => (Number.isNaN(w) ? null : w));
  }

  get blockTest(): number | null {
    return checkedIn(this.#judge) > 0 ? entryAt(this.#judge.tests.blockTest, this.#judge.equation) : null;
  }

  get estimatedBiasM(): readonly number[] {
    return checkedIn(this.#judge) > 0 ? numbersIn(this.#judge, this.#judge.tests.othersMinusObserved) : [];
  }
}

const NO_REASONS: readonly ProblemCode[] = [];
const FOUL: readonly ProblemCode[] = ['network-observation'];
const UNCHECKED: readonly ProblemCode[] = ['network-unchecked'];

/** The control against the network, in the network's order; control that nothing observes is not there. */
export function networkControl(adjusted: AdjustedNetwork): readonly NetworkControlResult[] {
  const { network, controlPoints, held, free, excludedControl, anchors } = adjusted;
  const { list } = free.solved;
  const holding = new Set(held);
  const tested = new Map(controlPoints.map((point) => [point.index, point]));
  return network.control.flatMap(({ id, held: hold, position }, index): readonly NetworkControlResult[] => {
    if (!list.indexOf.has(id)) return [];
    const test = tested.get(index) ?? null;
    const isTested = test !== null && test.checkedDirections > 0;
    const limit = isTested ? adjusted.controlLimit(test.checkedDirections) : null;
    const isFoul = isTested && limit !== null && test.test > limit;
    const isOut = excludedControl.includes(index);
    const axes = position === null || hold === 'height' ? [2] : hold === 'plan' ? [0, 1] : [0, 1, 2];
    const difference = [0, 1, 2].map((axis) =>
      isTested ? (test.othersMinusStatedM[axes.indexOf(axis)] ?? null) : null,
    );
    const reasons: readonly ProblemCode[] = isOut
      ? ['network-excluded']
      : isFoul
        ? ['network-control']
        : isTested
          ? []
          : ['network-unchecked'];
    return [
      {
        index,
        id,
        held: anchors.includes(index) && !holding.has(index) ? 'datum' : hold,
        differenceM: [difference[0]!, difference[1]!, difference[2]!],
        test: isTested ? test.test : null,
        limit,
        isHolding: holding.has(index),
        verdict: isFoul || isOut ? 'no' : isTested ? 'within' : 'review',
        reasons,
      },
    ];
  });
}

/** Shared errors but distortions, and the geoid's, after the adjustment, metres; of three components those in the local axes of their station. */
export function networkParameters({ network, final, scale }: AdjustedNetwork): readonly NetworkParameter[] {
  const { built, solution, list } = final.solved;
  const found: NetworkParameter[] = [];
  network.shared.forEach(({ name, covariance, distortion }, index) => {
    if (distortion !== undefined) return;
    const block = built.sharedBlock(index);
    const at = solution.equations.starts[block]!;
    const size = typeof covariance === 'number' ? 1 : 3;
    const q = new Float64Array(size * size);
    final.cofactors.ofBlocks(block, block, q);
    if (typeof covariance === 'number') {
      found.push({
        name,
        component: 'one',
        valueM: solution.unknowns[at]!,
        sigmaM: Math.sqrt(scale * q[0]!),
        statedSigmaM: Math.sqrt(covariance),
      });
      return;
    }
    if (!('local' in covariance)) throw new InternalError('a shared error without a station');
    const { frame } = list.stations[list.indexOf.get(covariance.stationId)!]!.place!;
    const x = solution.unknowns;
    const value = geocentricToLocal(frame, { xM: x[at]!, yM: x[at + 1]!, zM: x[at + 2]! });
    const own = localCovarianceOf(q, frame);
    const { local } = covariance;
    for (const [component, valueM, variance, stated] of [
      ['east', value.eastM, own.eeM2, local.eeM2],
      ['north', value.northM, own.nnM2, local.nnM2],
      ['up', value.upM, own.uuM2, local.uuM2],
    ] as const)
      found.push({ name, component, valueM, sigmaM: Math.sqrt(scale * variance), statedSigmaM: Math.sqrt(stated) });
  });
  if (built.geoidBlocks !== null && network.geoidError !== null) {
    const { constantSigmaM, tiltSigmaMPerKm } = network.geoidError;
    const q = new Float64Array(1);
    (['geoid', 'geoid tilt east, a kilometre', 'geoid tilt north, a kilometre'] as const).forEach((name, k) => {
      const block = built.geoidBlocks![k]!;
      final.cofactors.ofBlocks(block, block, q);
      found.push({
        name,
        component: 'one',
        valueM: solution.unknowns[solution.equations.starts[block]!]!,
        sigmaM: Math.sqrt(scale * q[0]!),
        statedSigmaM: k === 0 ? constantSigmaM : tiltSigmaMPerKm,
      });
    });
  }
  return found;
}

/** Groups told apart at most: bases with most observations first by name; each solution of the iteration is one adjustment. */
const MOST_GROUPS = 12;
/** Vectors up to which variance components are worked out: they need up to some hundred adjustments. */
const MOST_VECTORS = 2000;

/** Variance components by the station that vectors start from, of levelling and of distances, from the minimal datum; empty where one group is all there is. */
export function networkComponents({ network, free }: AdjustedNetwork): readonly NetworkComponent[] {
  const { built } = free.solved;
  const groupOf = ({ kind, index }: EquationOrigin): string | null => {
    if (!isMeasured(kind)) return null;
    return kind === 'vector'
      ? `vectors from ${network.vectors[index]!.fromId}`
      : kind === 'levelled'
        ? 'levelling'
        : 'distances';
  };
  if (network.vectors.length > MOST_VECTORS) return [];
  // What is not measured is of no group.
  const groupAt = Array.from({ length: built.origins.length }, (_, at) => groupOf(built.origins.of(at)) ?? '');
  const names = [...new Set(groupAt)].filter((name) => name !== '').sort();
  if (names.length < 2 || names.length > MOST_GROUPS) return [];
  const groups = groupAt.map((name) => names.indexOf(name));
  const found = varianceComponents(built.equations, groups, names.length);
  // The groups cannot be told apart.
  return (found ?? []).flatMap((component, k) =>
    component === null
      ? []
      : [{ group: names[k]!, factor: component.factor, sigma: component.sigma, redundancy: component.redundancy }],
  );
}

/** The answer of a whole adjustment. */
export function networkAnswer(
  adjusted: AdjustedNetwork,
  observations: readonly NetworkObservationResult[],
  control: readonly NetworkControlResult[],
): { readonly answer: Answer; readonly reasons: readonly ProblemCode[] } {
  const reasons: ProblemCode[] = [];
  const { finalTest, scale } = adjusted;
  if (finalTest.answer === 'too-large') reasons.push('network-too-noisy');
  if (finalTest.answer === 'too-small') reasons.push('network-too-quiet');
  const isNo =
    (finalTest.answer === 'too-large' && scale === 1) ||
    [...observations, ...control].some(({ verdict }) => verdict === 'no');
  const isReview = reasons.length > 0 || [...observations, ...control].some(({ verdict }) => verdict === 'review');
  return { answer: isNo ? 'no' : isReview ? 'review' : 'within', reasons };
}
