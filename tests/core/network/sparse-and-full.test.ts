import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { adjustNetwork } from '../../../src/core/network/adjust-network.js';
import type { AdjustedNetwork } from '../../../src/core/network/adjust-network.js';
import { biasReach } from '../../../src/core/network/evidence/bias-reach.js';
import { observationAt } from '../../../src/core/network/blocks/block-equations.js';
import { eliminationOrder } from '../../../src/core/network/blocks/elimination-order.js';
import type { ControlPoint, Network, SharedError, VectorObservation } from '../../../src/core/network/network.js';
import { adjustedHeight } from '../../../src/core/network/solve-network.js';
import { choleskyFactor, choleskyInverse } from '../../../src/core/numeric/linear-solve.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';
import { byFullMatrices } from './by-full-matrices.js';
import { madeNetwork } from './made-network.js';
import { at, EMPTY } from './vectors-by-hand.js';

const PLAIN = { datum: 'control', excludesOutliers: false, estimatesVariance: false } as const;

function adjusted(network: Network): AdjustedNetwork {
  const outcome = adjustNetwork(network, PLAIN);
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

type Point = ReturnType<typeof at>;
const apart = (a: Point, b: Point): Point => at(b.xM - a.xM, b.yM - a.yM, b.zM - a.zM);

/** A covariance that is positive definite, of some millimetres, its numbers correlated. */
function covarianceOf(random: SeededRandom): {
  xx: number;
  xy: number;
  xz: number;
  yy: number;
  yz: number;
  zz: number;
} {
  const [a, b, c] = [0, 1, 2].map(() => [0, 1, 2].map(() => 0.004 * random.normal())) as [number[], number[], number[]];
  const dot = (p: number[], q: number[]): number => p[0]! * q[0]! + p[1]! * q[1]! + p[2]! * q[2]!;
  return {
    xx: dot(a, a) + 4e-6,
    xy: dot(a, b),
    xz: dot(a, c),
    yy: dot(b, b) + 4e-6,
    yz: dot(b, c),
    zz: dot(c, c) + 4e-6,
  };
}

/** Bases, points seen from some of them, points that see points, levelled lines through both, heights alone, distances; control of every kind. */
function anyNetwork(seed: number): Network {
  const random = seededRandom(seed);
  const place = (): Point =>
    geodeticToGeocentric(
      {
        latitudeDeg: -33 + 0.1 * random.normal(),
        longitudeDeg: 21 + 0.1 * random.normal(),
        ellipsoidalHeightM: 300 + 40 * random.normal(),
      },
      GRS80,
    );
  const bases = ['B1', 'B2', 'B3'];
  const points = Array.from({ length: 4 + random.index(6) }, (_, k) => `P${k}`);
  const heights = Array.from({ length: 3 }, (_, k) => `H${k}`);
  const truths = new Map([...bases, ...points].map((id) => [id, place()]));
  const levels = new Map(heights.map((id) => [id, 250 + 30 * random.normal()]));
  const levelOf = (id: string): number => {
    const truth = truths.get(id);
    return truth === undefined ? levels.get(id)! : geocentricToGeodetic(truth, GRS80).ellipsoidalHeightM - 30;
  };
  const shared: SharedError[] = [
    ...bases.map((id) => ({ name: `set-up ${id}`, of: id, covariance: covarianceOf(random) })),
    { name: 'antenna', of: 'antenna', covariance: 4e-6 },
    { name: 'pole', of: 'pole', covariance: 9e-6 },
  ];
  const vectors: VectorObservation[] = [];
  const vector = (fromId: string, toId: string, terms: VectorObservation['shared']): void => {
    const { xM, yM, zM } = apart(truths.get(fromId)!, truths.get(toId)!);
    const off = (): number => 0.005 * random.normal();
    vectors.push({
      fromId,
      toId,
      difference: at(xM + off(), yM + off(), zM + off()),
      covariance: covarianceOf(random),
      shared: terms,
    });
  };
  for (const id of points) {
    const seen = 1 + random.index(3);
    for (let k = 0; k < seen; k += 1) {
      const base = bases[random.index(3)]!;
      vector(base, id, [
        { error: `set-up ${base}`, along: 'whole' },
        { error: 'antenna', along: 'up-from' },
        { error: 'pole', along: 'up-to' },
      ]);
    }
  }
  vector('B1', 'B2', []);
  vector('B2', 'B3', []);
  for (let k = 0; k + 1 < points.length; k += 2) vector(points[k]!, points[k + 1]!, []);
  const line = [points[0]!, heights[0]!, heights[1]!, points[1]!, heights[2]!, points[2]!, points[3]!, heights[0]!];
  const levelled = line.slice(1).map((toId, k) => ({
    fromId: line[k]!,
    toId,
    differenceM: levelOf(toId) - levelOf(line[k]!) + 0.002 * random.normal(),
    sigmaM: 0.002 + 0.002 * random.next(),
  }));
  const distances = [0, 1].map((k) => {
    const [fromId, toId] = [points[k]!, points[k + 2]!];
    const { xM, yM, zM } = apart(truths.get(fromId)!, truths.get(toId)!);
    return {
      fromId,
      toId,
      distanceM: Math.hypot(xM, yM, zM) + 0.003 * random.normal(),
      sigmaM: 0.003,
      fromUpM: 0,
      toUpM: 0,
    };
  });
  const control = ['B1', 'B2', 'P0', 'P1'].map((id, k): ControlPoint => {
    const { xM, yM, zM } = truths.get(id)!;
    const off = (): number => 0.005 * random.normal();
    return {
      id,
      position: at(xM + off(), yM + off(), zM + off()),
      orthometricHeightM: null,
      held: (['weighted', 'weighted', 'plan', 'height'] as const)[k]!,
      covariance: covarianceOf(random),
      heightVarianceM2: null,
    };
  });
  return {
    ...EMPTY,
    vectors,
    levelled,
    distances,
    shared,
    control: [
      ...control,
      {
        id: 'H1',
        position: null,
        orthometricHeightM: levelOf('H1'),
        held: 'height',
        covariance: null,
        heightVarianceM2: 9e-6,
      },
    ],
    geoidHeightM: new Map([...bases, ...points].map((id) => [id, 30])),
    geoidError: { constantSigmaM: 0.02, tiltSigmaMPerKm: 0.002 },
  };
}

const seeds = fc.integer({ min: 1, max: 2 ** 31 - 1 });
/** Relative to what a number may be, by its own sigmas: the two ways share no arithmetic. */
const SAME = 1e-8;

describe('a network of every kind of observation', () => {
  it('has by sparse blocks what full matrices give: unknowns, every block that meets, sum of squares, redundancies, w', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { solved, cofactors, tests } = adjusted(anyNetwork(seed)).final;
        const { solution } = solved;
        const { equations } = solution;
        const full = byFullMatrices(equations);
        const sigma = (i: number): number => Math.sqrt(full.cofactor[i * full.size + i]!);
        solution.unknowns.forEach((x, i) => expect(Math.abs(x - full.unknowns[i]!) / sigma(i)).toBeLessThan(SAME * 10));
        expect(Math.abs(solution.weightedSquares / full.weightedSquares - 1)).toBeLessThan(SAME);
        const q = new Float64Array(9);
        const differs = (a: number, b: number, found: ArrayLike<number>): number => {
          const [i, j, width] = [equations.starts[a]!, equations.starts[b]!, equations.sizes[b]!];
          return Math.max(
            ...Array.from({ length: equations.sizes[a]! * width }, (_, k) => {
              const [r, c] = [i + Math.floor(k / width), j + (k % width)];
              return Math.abs(found[k]! - full.cofactor[r * full.size + c]!) / (sigma(r) * sigma(c));
            }),
          );
        };
        for (let index = 0; index < equations.count; index += 1) {
          const { terms } = observationAt(equations, index);
          for (const a of terms)
            for (const b of terms) {
              cofactors.ofBlocks(a.block, b.block, q);
              expect(differs(a.block, b.block, q)).toBeLessThan(SAME);
            }
        }
        for (let a = 0; a < equations.sizes.length; a += 1)
          for (let b = 0; b < equations.sizes.length; b += 3) {
            cofactors.between(a, b, q);
            expect(differs(a, b, q)).toBeLessThan(SAME);
          }
        expect(tests.redundancy.reduce((sum, value) => sum + value, 0)).toBeCloseTo(solution.degreesOfFreedom, 7);
        redundanciesAgree(adjusted(anyNetwork(seed)), full.cofactor);
      }),
      { numRuns: 25 },
    );
  });

  it('moves a station by the external reliability that full matrices give', () => {
    const { solved, cofactors } = adjusted(anyNetwork(31)).final;
    const { equations } = solved.solution;
    const full = byFullMatrices(equations);
    const reach = biasReach(solved.solution, cofactors);
    for (let index = 0; index < equations.count; index += 1) {
      const { terms, weight, observed } = observationAt(equations, index);
      if (observed.length !== 1 || !solved.built.origins.isMeasured(index)) continue;
      // Of one number: |Q_s Aᵀ P| over the root of (P Q_v P).
      const row = new Float64Array(full.size);
      for (const { block, matrix, factor } of terms)
        for (let c = 0; c < equations.sizes[block]!; c += 1)
          row[equations.starts[block]! + c]! += matrix === null ? factor : matrix[c]!;
      const moved = Array.from(row, (_, i) =>
        row.reduce((sum, a, j) => sum + full.cofactor[i * full.size + j]! * a, 0),
      );
      const h = row.reduce((sum, a, j) => sum + a * moved[j]!, 0);
      const p = weight[0]!;
      const station = terms[0]!.block;
      const [from, to] = [equations.starts[station]!, equations.starts[station + 1]!];
      const length = Math.hypot(...moved.slice(from, to)) * p;
      expect(Math.abs((reach(index, station) * Math.sqrt(p - p * h * p)) / length - 1)).toBeLessThan(SAME);
    }
  });

  it('gives the same bytes for its control in any order', () => {
    const network = anyNetwork(7);
    const of = ({ final }: AdjustedNetwork): string => JSON.stringify([...final.solved.solution.unknowns]);
    expect(of(adjusted({ ...network, control: [...network.control].reverse(), shared: network.shared }))).toBe(
      of(adjusted(network)),
    );
  });
});

/** (Q_v P)_ii and w of each observation, from full matrices. */
function redundanciesAgree({ final }: AdjustedNetwork, cofactor: Float64Array): void {
  const { tests, solved } = final;
  const { equations } = solved.solution;
  const size = solved.solution.unknowns.length;
  for (let index = 0; index < equations.count; index += 1) {
    const { terms, weight, observed } = observationAt(equations, index);
    const m = observed.length;
    const rows = Array.from({ length: m }, (_, r) => {
      const row = new Float64Array(size);
      for (const { block, matrix, factor } of terms)
        for (let c = 0; c < equations.sizes[block]!; c += 1)
          row[equations.starts[block]! + c]! +=
            matrix === null ? (r === c ? factor : 0) : matrix[r * equations.sizes[block]! + c]!;
      return row;
    });
    const h = rows.map((a) =>
      rows.map((b) => {
        let sum = 0;
        for (let i = 0; i < size; i += 1)
          for (let j = 0; a[i] !== 0 && j < size; j += 1) sum += a[i]! * cofactor[i * size + j]! * b[j]!;
        return sum;
      }),
    );
    const p = (r: number, c: number): number => weight[r * m + c]!;
    const each = Array.from({ length: m }, (_, k) => k);
    const ph = each.map((r) => each.map((c) => each.reduce((sum, k) => sum + p(r, k) * h[k]![c]!, 0)));
    const { redundancy, w } = tests.of(index);
    for (const r of each) {
      expect(Math.abs(redundancy[r]! - (1 - ph[r]![r]!))).toBeLessThan(SAME);
      const spread = p(r, r) - each.reduce((sum, k) => sum + ph[r]![k]! * p(k, r), 0);
      const own = w[r] ?? null;
      if (own === null || spread < 1e-4 * p(r, r)) continue;
      const force = each.reduce((sum, k) => sum + p(r, k) * tests.of(index).residuals[k]!, 0);
      expect(Math.abs(own - force / Math.sqrt(spread))).toBeLessThan(SAME * 100);
    }
  }
}

describe('the order of elimination', () => {
  it('takes points that are seen from few bases before all else, and so fills nothing but what bases and shared errors make', () => {
    const { network } = madeNetwork(300);
    const { solution } = adjusted(network).final.solved;
    const { order } = solution.factor;
    const bases = 4;
    const count = solution.equations.sizes.length;
    for (let block = 0; block < count; block += 1) {
      const isPoint = block >= bases && block < bases + 300;
      expect(order.placeOf[block]! < 300).toBe(isPoint);
    }
    for (const place of order.below.subarray(0, order.belowStarts[300])) expect(place).toBeGreaterThanOrEqual(300);
  });

  it('holds every pair of blocks that meet, whatever meets whatever, and every block once', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.array(fc.array(fc.nat(39), { minLength: 1, maxLength: 4 }), { maxLength: 80 }),
        (count, drawn) => {
          const cliques = drawn.map((clique) => clique.map((block) => block % count));
          const termStarts = Int32Array.from([0, ...cliques.map(({ length }) => length)]);
          for (let k = 1; k < termStarts.length; k += 1) termStarts[k]! += termStarts[k - 1]!;
          const order = eliminationOrder(count, { termStarts, termBlocks: Int32Array.from(cliques.flat()) });
          expect([...order.blockAt].sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, k) => k));
          const below = (place: number): readonly number[] => [
            ...order.below.subarray(order.belowStarts[place], order.belowStarts[place + 1]),
          ];
          const holds = (a: number, b: number): boolean => below(Math.min(a, b)).includes(Math.max(a, b));
          for (const clique of cliques)
            for (const a of clique)
              for (const b of clique) if (a !== b) expect(holds(order.placeOf[a]!, order.placeOf[b]!)).toBe(true);
          // What one column holds meets once it is eliminated.
          for (let place = 0; place < count; place += 1) {
            const own = below(place);
            expect(own).toEqual([...own].sort((a, b) => a - b));
            for (const a of own) for (const b of own) if (a < b) expect(holds(a, b)).toBe(true);
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('leaves a grid of 2,500 levelled heights and a line of 20,000 feasible, and both right', () => {
    const random = seededRandom(3);
    const side = 50;
    const name = (i: number, j: number): string => `G${String(i).padStart(2, '0')}-${String(j).padStart(2, '0')}`;
    const levelled: Network['levelled'][number][] = [];
    const line = (fromId: string, toId: string, rise: number): void => {
      levelled.push({ fromId, toId, differenceM: rise + 0.001 * random.normal(), sigmaM: 0.001 });
    };
    for (let i = 0; i < side; i += 1)
      for (let j = 0; j < side; j += 1) {
        if (i + 1 < side) line(name(i, j), name(i + 1, j), 0.5);
        if (j + 1 < side) line(name(i, j), name(i, j + 1), -0.25);
      }
    const height = (id: string, orthometricHeightM: number): ControlPoint => ({
      id,
      position: null,
      orthometricHeightM,
      held: 'fixed',
      covariance: null,
      heightVarianceM2: null,
    });
    const grid = adjusted({ ...EMPTY, levelled, control: [height(name(0, 0), 100)] });
    const redundancy = grid.final.tests.redundancy.reduce((sum, value) => sum + value, 0);
    expect(Math.abs(redundancy - grid.finalTest.degreesOfFreedom)).toBeLessThan(1e-4);
    // By each line: the sum of squares of a net that is right is near its degrees of freedom.
    expect(grid.finalTest.answer).toBe('within');
    const count = 20_000;
    const lineName = (k: number): string => `L${String(k).padStart(5, '0')}`;
    const chain = adjusted({
      ...EMPTY,
      levelled: Array.from({ length: count }, (_, k) => ({
        fromId: lineName(k),
        toId: lineName(k + 1),
        differenceM: 0.01,
        sigmaM: 0.001,
      })),
      control: [height(lineName(0), 100), { ...height(lineName(count), 301), held: 'fixed' }],
    });
    // The misclosure of 1 m is shared evenly; in the middle the variance is a quarter of that of the whole line.
    const middle = chain.final.solved.list.indexOf.get(lineName(count / 2))!;
    expect(adjustedHeight(chain.final.solved, middle)).toBeCloseTo(200.5, 6);
    const q = new Float64Array(1);
    chain.final.cofactors.ofBlocks(middle, middle, q);
    expect(q[0]! / (count * 1e-6)).toBeCloseTo(0.25, 6);
  });
});

describe('shared errors as unknowns', () => {
  it('equal the full covariance of all vectors to 1e-8, along up as well as whole', () => {
    const network = anyNetwork(12);
    const { solved, cofactors } = adjusted({
      ...network,
      levelled: [],
      distances: [],
      control: network.control.slice(0, 2),
    }).final;
    const { equations } = solved.solution;
    const stations = solved.list.stations.length;
    const u = equations.starts[stations]!;
    const rows = equations.rowStarts[equations.count]!;
    // Rows of the stations alone; the covariance of all numbers with what the shared errors put into them.
    const design = new Float64Array(rows * u);
    const covariance = new Float64Array(rows * rows);
    const spread: { readonly block: number; readonly rows: Float64Array }[] = [];
    const priors = new Map<number, Float64Array>();
    const kept: number[] = [];
    for (let index = 0; index < equations.count; index += 1) {
      const { terms, weight, observed } = observationAt(equations, index);
      const m = observed.length;
      const own = choleskyInverse(choleskyFactor(Float64Array.from(weight), m)!, m);
      const [only] = terms;
      if (terms.length === 1 && only!.block >= stations) {
        priors.set(only!.block, own);
        continue;
      }
      const start = equations.rowStarts[index]!;
      for (let r = 0; r < m; r += 1) {
        kept.push(start + r);
        for (let s = 0; s < m; s += 1) covariance[(start + r) * rows + start + s] = own[r * m + s]!;
      }
      for (const { block, matrix, factor } of terms) {
        const size = equations.sizes[block]!;
        for (let r = 0; r < m; r += 1)
          for (let c = 0; c < size; c += 1) {
            const value = matrix === null ? (r === c ? factor : 0) : matrix[r * size + c]!;
            if (block < stations) {
              design[(start + r) * u + equations.starts[block]! + c]! += value;
              continue;
            }
            let found = spread.find((one) => one.block === block);
            if (found === undefined) spread.push((found = { block, rows: new Float64Array(rows * size) }));
            found.rows[(start + r) * size + c]! += value;
          }
      }
    }
    for (const { block, rows: b } of spread) {
      const size = equations.sizes[block]!;
      const prior = priors.get(block)!;
      for (const i of kept)
        for (const j of kept)
          for (let c = 0; c < size; c += 1)
            for (let d = 0; d < size; d += 1)
              covariance[i * rows + j]! += b[i * size + c]! * prior[c * size + d]! * b[j * size + d]!;
    }
    const n = kept.length;
    const whole = Float64Array.from(
      { length: n * n },
      (_, k) => covariance[kept[Math.floor(k / n)]! * rows + kept[k % n]!]!,
    );
    const weight = choleskyInverse(choleskyFactor(whole, n)!, n);
    const normal = new Float64Array(u * u);
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j < n; j += 1)
        for (let a = 0; a < u; a += 1) {
          const left = design[kept[i]! * u + a]! * weight[i * n + j]!;
          for (let b = 0; left !== 0 && b < u; b += 1) normal[a * u + b]! += left * design[kept[j]! * u + b]!;
        }
    const q = choleskyInverse(choleskyFactor(normal, u)!, u);
    const block = new Float64Array(9);
    for (let station = 0; station < stations; station += 1) {
      cofactors.ofBlocks(station, station, block);
      const from = equations.starts[station]!;
      for (let r = 0; r < 3; r += 1)
        for (let c = 0; c < 3; c += 1) {
          const scale = Math.sqrt(q[(from + r) * u + from + r]! * q[(from + c) * u + from + c]!);
          expect(Math.abs(block[r * 3 + c]! - q[(from + r) * u + from + c]!) / scale).toBeLessThan(SAME);
        }
    }
  });
});
