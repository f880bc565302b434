import { describe, expect, it } from 'vitest';
import {
  noncentralChiSquareUpperTail,
  noncentralityFor,
} from '../../../src/core/numeric/distributions/noncentral-chi-square.js';
import { chiSquareQuantile } from '../../../src/core/numeric/distributions/chi-square.js';
import { positionalUncertainty } from '../../../src/core/observation/uncertainty/positional-uncertainty.js';
import { HORIZONTAL_95 } from '../../../src/core/observation/uncertainty/confidence-factors.js';
import { localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { adjustBlocks } from '../../../src/core/network/blocks/adjust-blocks.js';
import { blockCofactors } from '../../../src/core/network/blocks/block-cofactors.js';
import { equationsOf } from '../../../src/core/network/equations/write-equations.js';
import type { BlockSolution } from '../../../src/core/network/blocks/adjust-blocks.js';
import type { BlockEquations } from '../../../src/core/network/blocks/block-equations.js';
import { controlLimits } from '../../../src/core/network/evidence/judge-control.js';
import { networkDistortions } from '../../../src/tasks/network/judge-distortions.js';
import { blockLimits } from '../../../src/core/network/evidence/block-limits.js';
import { adjustNetwork } from '../../../src/core/network/adjust-network.js';
import type { AdjustedNetwork } from '../../../src/core/network/adjust-network.js';
import { DISTORTION_KINDS } from '../../../src/core/network/distortions/distortion.js';
import { leastSum } from '../../../src/core/network/evidence/least-sum.js';
import {
  geocentricCovariance,
  localCovarianceOf,
  relativeCovariance,
} from '../../../src/core/network/equations/relative-accuracy.js';
import { adjustedHeight, adjustedPosition } from '../../../src/core/network/solve-network.js';
import { solveFactored } from '../../../src/core/network/blocks/factor-solve.js';
import { varianceComponents } from '../../../src/core/network/evidence/variance-components.js';
import type { Network } from '../../../src/core/network/network.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import type { ReferenceRow } from '../../support/read-reference-table.js';
import { distortedNetwork, madeNetwork, nameOf } from './made-network.js';
import { EMPTY, fixed, STATION_A, STATION_B, thirteenVectors } from './vectors-by-hand.js';

const PLAIN = { datum: 'control', excludesOutliers: false, estimatesVariance: false } as const;
const AXES = ['X', 'Y', 'Z'];

function adjusted(network: Network, choice: Parameters<typeof adjustNetwork>[1] = PLAIN): AdjustedNetwork {
  const outcome = adjustNetwork(network, choice);
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

const once = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
};

const thirteen = once(() =>
  adjusted({ ...EMPTY, vectors: thirteenVectors(), control: [fixed('A', STATION_A), fixed('B', STATION_B)] }),
);
const made = new Map(
  [20, 1000, 50_000].map((count) => [`seeded-${count}`, once(() => adjusted(madeNetwork(count).network))]),
);

function ofNetwork(adjustment: AdjustedNetwork, row: ReferenceRow): number {
  const isMinimal = row.text('set') === 'thirteen-minimal';
  const { solved, tests, cofactors } = isMinimal ? adjustment.free : adjustment.final;
  const { solution, list, built } = solved;
  const quantity = row.text('quantity');
  const [name = '', axisName = ''] = row.text('of').split(' ');
  const axis = AXES.indexOf(axisName);
  const vector = adjustment.network.vectors.findIndex(({ fromId, toId }) => `${fromId}-${toId}` === name);
  const test = vector < 0 ? undefined : tests.of(built.origins.equationOf('vector', vector));
  switch (quantity) {
    case 'sum-of-squares':
      return solution.weightedSquares;
    case 'degrees-of-freedom':
      return solution.degreesOfFreedom;
    case 'vectors':
      return adjustment.network.vectors.length;
    case 'redundancy-sum':
      return adjustment.network.vectors.reduce(
        (sum, _, index) => tests.of(built.origins.equationOf('vector', index)).redundancy.reduce((a, b) => a + b, sum),
        0,
      );
    case 'coordinate': {
      const id =
        name === 'first' ? nameOf(0) : name === 'last' ? nameOf(Number(row.text('set').split('-')[1]) - 1) : name;
      const { xM, yM, zM } = adjustedPosition(solved, list.indexOf.get(id)!)!;
      return [xM, yM, zM][axis]!;
    }
    case 'sigma': {
      const q = new Float64Array(9);
      const station = list.indexOf.get(name)!;
      cofactors.ofBlocks(station, station, q);
      return Math.sqrt(q[axis * 4]!);
    }
    case 'residual':
      return test!.residuals[axis]!;
    case 'redundancy':
      return test!.redundancy[axis]!;
    case 'w':
      return test!.w[axis]!;
    case 'block-test':
      return test!.blockTest;
    case 'vector-redundancy':
      return test!.redundancy.reduce((sum, value) => sum + value, 0);
    case 'variance-factor':
      return adjustment.finalTest.varianceFactor!;
    case 'global-low':
      return adjustment.finalTest.limits![0];
    case 'global-high':
      return adjustment.finalTest.limits![1];
    case 'others-minus-observed':
      return test!.othersMinusObserved[axis]!;
    case 'detectable':
      return Math.sqrt(noncentralityFor(0.05, 0.8, 1) / test!.detectability[axis]!);
    case 'studentised':
      return Math.abs(test!.w[axis]!) / Math.sqrt(solution.weightedSquares / solution.degreesOfFreedom);
    case 'pope-critical': {
      const limit = blockLimits(1 - 0.95 ** (1 / 39), 0.8, solution).block(1)!;
      return Math.sqrt((limit * solution.degreesOfFreedom) / solution.weightedSquares);
    }
    case 'control-test':
      return adjustment.control!.points.find(({ index }) => adjustment.network.control[index]!.id === name)!.test;
    case 'control-limit':
    case 'control-f-limit': {
      const [level = 0, directions = 0] = row.numbers('of');
      const isF = quantity === 'control-f-limit';
      const limit = controlLimits(level, isF ? solution : null)(directions)!;
      return isF ? limit / directions / adjustment.freeTest.varianceFactor! : limit;
    }
    case 'control-f': {
      const own = adjustment.control!.points.find(({ index }) => adjustment.network.control[index]!.id === name)!;
      return own.test / own.checkedDirections / adjustment.freeTest.varianceFactor!;
    }
    case 'distortion':
    case 'distortion-sigma':
    case 'distortion-test': {
      const own = networkDistortions(adjustment).find((one) => one.name === row.text('of'))!;
      expect(own.answer).toBe('kept');
      return { distortion: own.valuePpm, 'distortion-sigma': own.sigmaPpm, 'distortion-test': own.test }[quantity]!;
    }
    case 'control-difference': {
      const { xM, yM, zM } = adjustedPosition(solved, list.indexOf.get(name)!)!;
      return [xM - STATION_B.xM, yM - STATION_B.yM, zM - STATION_B.zM][axis]!;
    }
    default:
      throw new Error(`no ${quantity}`);
  }
}

const distorted = once(() =>
  adjusted(distortedNetwork(), { ...PLAIN, distortions: { kinds: DISTORTION_KINDS, by: 'base' } }),
);

/** Numbers observed one by one: the rows of A, l, and one variance each. */
function ofNumbers(
  rows: readonly { readonly a: readonly number[]; readonly l: number; readonly variance: number }[],
): BlockEquations {
  const count = rows[0]!.a.length;
  return equationsOf(
    Array.from({ length: count }, () => 1),
    rows.map(({ a, l, variance }) => ({
      terms: a.flatMap((factor, block) => (factor === 0 ? [] : [{ block, matrix: null, factor }])),
      observed: [l],
      weight: [1 / variance],
    })),
  );
}

function solved(equations: BlockEquations): BlockSolution {
  const outcome = adjustBlocks(equations);
  if (!outcome.ok) throw new Error(`block ${outcome.block} is not determined`);
  return outcome.solution;
}

function sigmaOf(solution: BlockSolution, parts: readonly (readonly [number, number])[]): number {
  const size = solution.unknowns.length;
  let variance = 0;
  for (const [i, a] of parts) for (const [j, b] of parts) variance += a * b * inverse(solution)[i * size + j]!;
  return Math.sqrt(variance);
}

/** The inverse of the normal equations column by column, from the solver alone. */
function inverse(solution: BlockSolution): Float64Array {
  const size = solution.unknowns.length;
  const q = new Float64Array(size * size);
  for (let j = 0; j < size; j += 1) {
    const unit = new Float64Array(size);
    unit[j] = 1;
    q.set(solveFactored(solution.factor, unit), j * size);
  }
  return q;
}

const SHARED = [
  ['B1', 1, 'P1', 25.012, 10],
  ['B1', 1, 'P2', 40.031, 20],
  ['B1', 2, 'P1', 24.985, 10],
  ['B2', 1, 'P2', -59.972, 30],
  ['B2', 1, 'P3', -80.01, 25],
  ['B1', 2, 'P3', 19.979, 35],
] as const;
const SHARED_UNKNOWNS = ['P1', 'P2', 'P3', 'B1', 'B2', 'B1 1', 'B1 2', 'B2 1'];

/** Heights from two bases: with base and day errors as unknowns, or in one of the two wrong ways. */
function sharedBase(way: '' | 'base ignored' | 'diagonal'): BlockSolution {
  const isWhole = way === '';
  const rows = SHARED.map(([base, day, point, rise, km]) => {
    const own = 0.01 ** 2 + (0.0005 * km) ** 2;
    const a = SHARED_UNKNOWNS.map((name) =>
      name === point ? 1 : isWhole && (name === base || name === `${base} ${day}`) ? -1 : 0,
    );
    const variance = way === 'diagonal' ? own + 0.01 ** 2 + 0.008 ** 2 : own;
    return { a: isWhole ? a : a.slice(0, 3), l: (base === 'B1' ? 100 : 200) + rise, variance };
  });
  const priors = SHARED_UNKNOWNS.slice(3).map((_, k) => ({
    a: SHARED_UNKNOWNS.map((_name, i) => (i === k + 3 ? 1 : 0)),
    l: 0,
    variance: k < 2 ? 0.01 ** 2 : 0.008 ** 2,
  }));
  return solved(ofNumbers(isWhole ? [...rows, ...priors] : rows));
}

function ofSharedBase(row: ReferenceRow): number {
  const [name = '', ...rest] = row.text('of').split(' ');
  const way = rest.join(' ');
  switch (row.text('quantity')) {
    case 'sum-of-squares':
      return sharedBase('').weightedSquares;
    case 'relative-sigma':
      return sigmaOf(sharedBase(''), [
        [SHARED_UNKNOWNS.indexOf(name), 1],
        [SHARED_UNKNOWNS.indexOf(way), -1],
      ]);
    case 'base-offset':
    case 'day-offset':
      return sharedBase('').unknowns[SHARED_UNKNOWNS.indexOf(row.text('of'))]!;
    case 'height':
      return sharedBase(way as '').unknowns[SHARED_UNKNOWNS.indexOf(name)]!;
    case 'sigma':
      return sigmaOf(sharedBase(way as ''), [[SHARED_UNKNOWNS.indexOf(name), 1]]);
    default:
      throw new Error(row.case);
  }
}

const STACK_LOSS = [
  [80, 27, 89, 42], [80, 27, 88, 37], [75, 25, 90, 37], [62, 24, 87, 28], [62, 22, 87, 18], [62, 23, 87, 18], [62, 24, 93, 19],
  [62, 24, 93, 20], [58, 23, 87, 15], [58, 18, 80, 14], [58, 18, 89, 14], [58, 17, 88, 13], [58, 18, 82, 11], [58, 19, 93, 12],
  [50, 18, 89, 8], [50, 18, 86, 7], [50, 19, 72, 8], [50, 19, 79, 8], [50, 20, 80, 9], [56, 20, 82, 15], [70, 20, 91, 15],
]; // prettier-ignore

/** Coefficients of a regression, the regressors taken about their means so that the normal equations keep their digits. */
function regression(
  rows: readonly (readonly number[])[],
  solve: (equations: BlockEquations) => BlockSolution,
): readonly number[] {
  const width = rows[0]!.length - 1;
  const means = Array.from({ length: width + 1 }, (_, c) => rows.reduce((sum, row) => sum + row[c]!, 0) / rows.length);
  const equations = ofNumbers(
    rows.map((row) => ({
      a: [1, ...Array.from({ length: width }, (_, c) => row[c]! - means[c]!)],
      l: row[width]! - means[width]!,
      variance: 1,
    })),
  );
  const x = solve(equations).unknowns;
  const slopes = Array.from({ length: width }, (_, c) => x[c + 1]!);
  const first = x[0]! + means[width]! - slopes.reduce((sum, slope, c) => sum + slope * means[c]!, 0);
  return [first, ...slopes];
}

/** The solver with weights that change from turn to turn: Huber's, with the median of the residuals as their scale. */
const byHuber = once(() => {
  let scale = 0;
  const coefficients = regression(STACK_LOSS, (equations) => {
    let solution = solved(equations);
    for (let turn = 0; turn < 2000; turn += 1) {
      const sizes = solution.residuals.map(Math.abs);
      scale = sizes.toSorted()[10]! / 0.6745;
      const weights = sizes.map((size) => Math.min(1, (1.345 * scale) / size));
      solution = solved({ ...equations, weights });
    }
    return solution;
  });
  return { coefficients, scale };
});

function ofStackLoss(row: ReferenceRow): number {
  const at = row.text('of') === '' ? 0 : row.number('of');
  if (row.text('quantity').startsWith('huber')) {
    const { coefficients, scale } = byHuber();
    return row.text('quantity') === 'huber' ? coefficients[at]! : scale;
  }
  if (row.text('quantity') === 'least-squares') return regression(STACK_LOSS, solved)[at]!;
  let sum = 0;
  const coefficients = regression(STACK_LOSS, (equations) => {
    const found = leastSum(equations)!;
    sum = found.sum;
    return found.solution;
  });
  return row.text('quantity') === 'least-sum' ? sum : coefficients[at]!;
}

const LONGLEY = {
  y: [60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551],
  x: [
    [83, 88.5, 88.2, 89.5, 96.2, 98.1, 99, 100, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9],
    [
      234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601,
      518173, 554894,
    ],
    [2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007],
    [1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827],
    [
      107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368,
      127852, 130081,
    ],
    Array.from({ length: 16 }, (_, k) => 1947 + k),
  ],
};

function ofLongley(row: ReferenceRow): number {
  const rows = LONGLEY.y.map((y, k) => [...LONGLEY.x.map((column) => column[k]!), y]);
  let deviation = 0;
  const coefficients = regression(rows, (equations) => {
    const solution = solved(equations);
    deviation = Math.sqrt(solution.weightedSquares / solution.degreesOfFreedom);
    return solution;
  });
  return row.text('quantity') === 'coefficient' ? coefficients[row.number('of')]! : deviation;
}

const ONE_WAY: Readonly<Record<string, readonly (readonly number[])[]>> = {
  rail: [[55, 53, 54], [26, 37, 32], [78, 91, 85], [92, 100, 96], [49, 51, 50], [80, 85, 83]],
  dyestuff: [
    [1545, 1440, 1440, 1520, 1580], [1540, 1555, 1490, 1560, 1495], [1595, 1550, 1605, 1510, 1560],
    [1445, 1440, 1595, 1465, 1545], [1595, 1630, 1515, 1635, 1625], [1520, 1455, 1450, 1480, 1445],
  ],
}; // prettier-ignore

function ofOneWay(row: ReferenceRow): number {
  const sets = ONE_WAY[row.text('set')]!;
  const count = sets.length;
  const rows = sets.flatMap((values, k) =>
    values.map((l) => ({ a: [1, ...Array.from({ length: count }, (_, i) => (i === k ? 1 : 0))], l, variance: 100 })),
  );
  const priors = sets.map((_, k) => ({
    a: [0, ...Array.from({ length: count }, (_unused, i) => (i === k ? 1 : 0))],
    l: 0,
    variance: 100,
  }));
  const equations = ofNumbers([...rows, ...priors]);
  const groups = [...rows.map(() => 0), ...priors.map(() => 1)];
  const [within, between] = varianceComponents(equations, groups, 2)!;
  switch (row.text('quantity')) {
    case 'sigma-within':
      return 10 * Math.sqrt(within!.factor);
    case 'sigma-between':
      return 10 * Math.sqrt(between!.factor);
    default:
      return solved(equations).unknowns[0]!;
  }
}

const LINES = [
  ['X', 'A', 5.1, 4],
  ['A', 'Y', 2.34, 3],
  ['Y', 'C', -1.25, 2],
  ['C', 'X', -6.13, 3],
  ['A', 'B', -0.68, 2],
  ['Y', 'B', -3.0, 2],
  ['B', 'C', 1.7, 2],
] as const;

function ofLevelling(row: ReferenceRow): number {
  const isEqual = row.text('set') === 'levelling-equal';
  const height = (id: string, orthometricHeightM: number): Network['control'][number] => ({
    id,
    position: null,
    orthometricHeightM,
    held: 'fixed',
    covariance: null,
    heightVarianceM2: null,
  });
  const { final, finalTest } = adjusted({
    ...EMPTY,
    levelled: LINES.map(([fromId, toId, differenceM, miles]) => ({
      fromId,
      toId,
      differenceM,
      sigmaM: isEqual ? 1 : Math.sqrt(miles / 12),
    })),
    control: [height('X', 100), height('Y', 107.5)],
  });
  const { list } = final.solved;
  const [word = '', name = ''] = row.text('of').split(' ');
  const s0 = Math.sqrt(finalTest.varianceFactor!);
  if (word === 's0') return s0;
  const station = list.indexOf.get(name || word)!;
  if (row.text('quantity') === 'height') return adjustedHeight(final.solved, station)!;
  const q = new Float64Array(1);
  final.cofactors.ofBlocks(station, station, q);
  return s0 * Math.sqrt(q[0]!);
}

const full = (xx: number, xy: number, xz: number, yy: number, yz: number, zz: number): readonly number[] => [
  xx,
  xy,
  xz,
  xy,
  yy,
  yz,
  xz,
  yz,
  zz,
];

/** Two places of a published adjustment, and what they have in common, m². */
function ofRelativeEllipse(row: ReferenceRow): number {
  const relative = relativeCovariance(
    full(1.767134409e-4, -8.9986817e-5, 1.178995144e-4, 1.096389072e-4, -7.182072102e-5, 1.401589156e-4),
    full(1.710523379e-4, -8.838905962e-5, 1.115604349e-4, 1.075437872e-4, -6.863722533e-5, 1.309705528e-4),
    [
      1.551869186e-4, -7.81073763e-5, 1.031288548e-4, -7.839261465e-5, 9.588492915e-5, -6.215921458e-5, 1.031049333e-4,
      -6.190579084e-5, 1.222674354e-4,
    ],
  );
  const local = localCovarianceOf(relative, localFrameAt(-33.371389383333, 145.673034975));
  const { ellipseMajor95M, ellipseMinor95M, ellipseAzimuthDeg } = positionalUncertainty(local, null);
  switch (row.text('quantity')) {
    case 'major':
      return ellipseMajor95M / HORIZONTAL_95;
    case 'minor':
      return ellipseMinor95M / HORIZONTAL_95;
    case 'azimuth':
      return ellipseAzimuthDeg;
    default:
      return Math.sqrt(local.uuM2);
  }
}

/** A published matrix taken as geocentric and as local: no covariance of anything, since it is not positive definite. */
function ofRotation(row: ReferenceRow): number {
  const frame = localFrameAt(19.4792453, 70.69315634);
  const [a, b, c, d, e, f] = [1.44, -1.32, 1.32, 1.22, -1.2, 1.2] as const;
  if (row.text('quantity') === 'to-local') {
    const local = localCovarianceOf(full(a, b, c, d, e, f), frame);
    const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = local;
    return { ee: eeM2, en: enM2, eu: euM2, nn: nnM2, nu: nuM2, uu: uuM2 }[row.text('of')]!;
  }
  const back = geocentricCovariance({ eeM2: a, enM2: b, euM2: c, nnM2: d, nuM2: e, uuM2: f }, frame);
  return back[row.text('of') as keyof typeof back];
}

function ofDistribution(row: ReferenceRow): number {
  if (row.text('set') === 'noncentrality') {
    const [level = 0, power = 0, degrees = 0] = row.numbers('of');
    const noncentrality = noncentralityFor(level, power, degrees);
    return row.text('quantity') === 'shift' ? Math.sqrt(noncentrality) : noncentrality;
  }
  // The level at which a test in so many dimensions finds what one of 0.1 % in one dimension finds, with the same power.
  const noncentrality = noncentralityFor(0.001, 0.8, 1);
  const degrees = row.number('of');
  let [low, high] = [1e-9, 0.9];
  for (let turn = 0; turn < 200; turn += 1) {
    const level = (low + high) / 2;
    if (noncentralChiSquareUpperTail(chiSquareQuantile(1 - level, degrees), degrees, noncentrality) < 0.8) low = level;
    else high = level;
  }
  return row.text('quantity') === 'level-percent' ? 100 * low : chiSquareQuantile(1 - low, degrees) / degrees;
}

function valueOf(row: ReferenceRow): number {
  const set = row.text('set');
  if (set.startsWith('thirteen')) return ofNetwork(thirteen(), row);
  if (set.startsWith('seeded')) return ofNetwork(made.get(set)!(), row);
  if (set.startsWith('levelling')) return ofLevelling(row);
  switch (set) {
    case 'least-sum': {
      const { solution, list, built } = thirteen().final.solved;
      const { sum, solution: other } = leastSum(built.equations)!;
      if (row.text('quantity') === 'least-sum') return sum;
      const [name = '', axis = ''] = row.text('of').split(' ');
      const at = solution.equations.starts[list.indexOf.get(name)!]! + AXES.indexOf(axis);
      return other.unknowns[at]! - solution.unknowns[at]!;
    }
    case 'distorted':
      return ofNetwork(distorted(), row);
    case 'shared-base':
      return ofSharedBase(row);
    case 'stack-loss':
      return ofStackLoss(row);
    case 'longley':
      return ofLongley(row);
    case 'rail':
    case 'dyestuff':
      return ofOneWay(row);
    case 'relative-ellipse':
      return ofRelativeEllipse(row);
    case 'rotated-covariance':
      return ofRotation(row);
    default:
      return ofDistribution(row);
  }
}

describe('reference values of networks', () => {
  const rows = readReferenceTable('networks');
  it.each(rows.map((row) => [row.case, row] as const))('%s', (_, row) => {
    const expected = row.number('expected');
    const scale = row.toleranceUnit === 'of the value' ? Math.abs(expected) : 1;
    expect(Math.abs(valueOf(row) - expected)).toBeLessThanOrEqual(row.tolerance * scale);
  });

  it('the two wrong ways of shared errors are wrong by far more than any tolerance here', () => {
    const sigma = (way: '' | 'base ignored' | 'diagonal'): number => sigmaOf(sharedBase(way), [[0, 1]]);
    expect(sigma('base ignored') / sigma('')).toBeLessThan(0.65);
    expect(sigma('diagonal') / sigma('')).toBeLessThan(0.95);
    expect(Math.abs(sharedBase('base ignored').unknowns[0]! - sharedBase('').unknowns[0]!)).toBeGreaterThan(5e-4);
  });

  it('the largest studentised residual of the thirteen vectors is just not rejected', () => {
    const { solution } = thirteen().final.solved;
    const s0 = Math.sqrt(solution.weightedSquares / solution.degreesOfFreedom);
    const largest = Math.max(...thirteen().final.tests.w.map((w) => (Number.isNaN(w) ? 0 : Math.abs(w) / s0)));
    const critical = Math.sqrt(blockLimits(1 - 0.95 ** (1 / 39), 0.8, solution).block(1)!) / s0;
    expect(largest).toBeGreaterThan(0.97 * critical);
    expect(largest).toBeLessThan(critical);
  });

  it('variance components have standard errors: of the balanced one-way set those of its mean squares', () => {
    // Rail: MSE has 12 degrees of freedom, so that its relative sigma is √(2/12).
    const sets = ONE_WAY['rail']!;
    const rows = sets.flatMap((values, k) =>
      values.map((l) => ({ a: [1, ...sets.map((_, i) => (i === k ? 1 : 0))], l, variance: 100 })),
    );
    const priors = sets.map((_, k) => ({
      a: [0, ...sets.map((_unused, i) => (i === k ? 1 : 0))],
      l: 0,
      variance: 100,
    }));
    const [within] = varianceComponents(
      ofNumbers([...rows, ...priors]),
      [...rows.map(() => 0), ...priors.map(() => 1)],
      2,
    )!;
    expect(within!.isExact).toBe(true);
    expect(within!.sigma / within!.factor).toBeCloseTo(Math.sqrt(2 / 12), 6);
  });
  it('has cofactors of observations that agree with the full inverse', () => {
    const solution = sharedBase('');
    const q = inverse(solution);
    const size = solution.unknowns.length;
    const own = new Float64Array(1);
    blockCofactors(solution).ofObservation(0, own);
    const a = SHARED_UNKNOWNS.map((name) => (name === 'P1' ? 1 : name === 'B1' || name === 'B1 1' ? -1 : 0));
    let sum = 0;
    for (let i = 0; i < size; i += 1) for (let j = 0; j < size; j += 1) sum += a[i]! * q[i * size + j]! * a[j]!;
    expect(own[0]).toBeCloseTo(sum, 14);
  });
});
