import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustNetwork } from '../../../src/core/network/adjust-network.js';
import type { AdjustedNetwork, NetworkChoice } from '../../../src/core/network/adjust-network.js';
import { adjustBlocks } from '../../../src/core/network/blocks/adjust-blocks.js';
import { biasReach } from '../../../src/core/network/evidence/bias-reach.js';
import { blockCofactors } from '../../../src/core/network/blocks/block-cofactors.js';
import { observationAt } from '../../../src/core/network/blocks/block-equations.js';
import { crossCofactor, pathOf } from '../../../src/core/network/blocks/factor-paths.js';
import { choleskyFactor, choleskyInverse } from '../../../src/core/numeric/linear-solve.js';
import { networkStations } from '../../../src/core/network/stations/network-stations.js';
import { adjustedPosition, solveNetwork } from '../../../src/core/network/solve-network.js';
import { varianceComponents } from '../../../src/core/network/evidence/variance-components.js';
import type { ControlPoint, Network, VectorObservation } from '../../../src/core/network/network.js';
import { seededRandom } from '../../support/seeded-random.js';
import { byFullMatrices } from './by-full-matrices.js';
import type { Symmetric3 } from '../../../src/core/numeric/symmetric3.js';
import { madeNetwork } from './made-network.js';
import { at, EMPTY, fixed } from './vectors-by-hand.js';

const PLAIN: NetworkChoice = { datum: 'control', excludesOutliers: false, estimatesVariance: false };

function adjusted(network: Network, choice: NetworkChoice = PLAIN): AdjustedNetwork {
  const outcome = adjustNetwork(network, choice);
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

const axisOf = ({ xx, yy, zz }: Symmetric3): readonly number[] => [xx, yy, zz];
const NAMES = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
const ORIGIN = { xM: 5_000_000, yM: 2_000_000, zM: -3_400_000 };

/** A network of eight stations, vectors between all neighbours and some others, three of them control; points meet points. */
function webOf(
  seed: number,
  noise: number = 1,
): { readonly network: Network; readonly truths: ReadonlyMap<string, ReturnType<typeof at>> } {
  const random = seededRandom(seed);
  const truths = new Map(
    NAMES.map((name) => [
      name,
      at(ORIGIN.xM + 9000 * random.normal(), ORIGIN.yM + 9000 * random.normal(), ORIGIN.zM + 9000 * random.normal()),
    ]),
  );
  const vectors: VectorObservation[] = [];
  NAMES.forEach((fromId, i) => {
    for (const step of [1, 2, 3]) {
      const toId = NAMES[(i + step) % NAMES.length]!;
      if (step === 3 && random.next() < 0.5) continue;
      const [a, b] = [truths.get(fromId)!, truths.get(toId)!];
      const s = 0.004 + 0.004 * random.next();
      const [e, f, g] = [s * random.normal(), s * random.normal(), s * random.normal()];
      vectors.push({
        fromId,
        toId,
        // Correlated: the second error holds half of the first.
        difference: at(b.xM - a.xM + noise * e, b.yM - a.yM + noise * (f + e / 2), b.zM - a.zM + noise * g),
        covariance: { xx: s * s, xy: (s * s) / 2, xz: 0, yy: 1.25 * s * s, yz: 0, zz: s * s },
        shared: step === 1 ? [{ error: 'antenna', along: 'up-from' }] : [],
      });
    }
  });
  const control = ['A', 'D', 'G'].map((id): ControlPoint => {
    const t = truths.get(id)!;
    return {
      ...fixed(id, at(t.xM + 0.004 * noise * random.normal(), t.yM + 0.004 * noise * random.normal(), t.zM)),
      held: 'weighted',
      covariance: { xx: 16e-6, xy: 2e-6, xz: 0, yy: 16e-6, yz: 0, zz: 16e-6 },
    };
  });
  return {
    truths,
    network: { ...EMPTY, vectors, control, shared: [{ name: 'antenna', of: 'antenna', covariance: 4e-6 }] },
  };
}

const seeds = fc.integer({ min: 1, max: 2 ** 31 - 1 });
const runs = { numRuns: 12 };

describe('a network adjusted', () => {
  it('agrees with full matrices in unknowns, sum of squares and every covariance, also between points that never meet', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { solved, cofactors } = adjusted(webOf(seed).network).final;
        const { solution } = solved;
        const full = byFullMatrices(solution.equations);
        solution.unknowns.forEach((x, i) => expect(Math.abs(x - full.unknowns[i]!)).toBeLessThan(1e-9));
        expect(Math.abs(solution.weightedSquares - full.weightedSquares)).toBeLessThan(1e-6);
        const q = new Float64Array(9);
        const block = (i: number, j: number): number[] =>
          Array.from(
            { length: 9 },
            (_, k) => full.cofactor[(3 * i + Math.floor(k / 3)) * full.size + 3 * j + (k % 3)]!,
          );
        for (let i = 0; i < NAMES.length; i += 1) {
          cofactors.ofBlocks(i, i, q);
          block(i, i).forEach((value, k) => expect(Math.abs(q[k]! - value)).toBeLessThan(1e-14));
          for (let j = 0; j < NAMES.length; j += 1) {
            const crossed = crossCofactor(solution.factor, pathOf(solution.factor, i), pathOf(solution.factor, j));
            const between = new Float64Array(9);
            cofactors.between(i, j, between);
            block(i, j).forEach((value, k) => expect(Math.abs(between[k]! - value)).toBeLessThan(1e-14));
            block(i, j).forEach((value, k) => expect(Math.abs(crossed[k]! - value)).toBeLessThan(1e-14));
          }
        }
      }),
      runs,
    );
  });

  it('has redundancies that sum to its degrees of freedom', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { final, finalTest } = adjusted(webOf(seed).network);
        const sum = final.tests.redundancy.reduce((a, b) => a + b, 0);
        expect(sum).toBeCloseTo(finalTest.degreesOfFreedom, 6);
      }),
      runs,
    );
  });

  it('has the same residuals, redundancies, tests and sum of squares whichever station holds a minimal datum', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { network, truths } = webOf(seed);
        const [first, second] = ['B', 'F'].map((id) =>
          adjusted(
            { ...network, control: [fixed(id, at(truths.get(id)!.xM + 0.3, truths.get(id)!.yM, truths.get(id)!.zM))] },
            { ...PLAIN, datum: 'minimal' },
          ),
        );
        expect(Math.abs(first!.finalTest.weightedSquares - second!.finalTest.weightedSquares)).toBeLessThan(1e-6);
        network.vectors.forEach((_, i) => {
          const [a, b] = [first!.final.tests.of(i), second!.final.tests.of(i)];
          for (let k = 0; k < 3; k += 1) {
            expect(Math.abs(a.residuals[k]! - b.residuals[k]!)).toBeLessThan(1e-8);
            expect(Math.abs(a.redundancy[k]! - b.redundancy[k]!)).toBeLessThan(1e-6);
            expect(Math.abs(a.w[k]! - b.w[k]!)).toBeLessThan(1e-5);
          }
          expect(Math.abs(a.blockTest - b.blockTest)).toBeLessThan(1e-5);
        });
      }),
      runs,
    );
  });

  it('gains with its control exactly what the test of all control says, fixed, weighted, or in part', () => {
    fc.assert(
      fc.property(
        seeds,
        fc.array(fc.constantFrom('fixed', 'weighted', 'plan', 'height'), { minLength: 3, maxLength: 3 }),
        (seed, held) => {
          const { network } = webOf(seed);
          // One whole point, so that the datum is there.
          const control = network.control.map((point, k) => ({
            ...point,
            held: k === 0 ? 'weighted' : held[k]!,
          }));
          const { control: tests, freeTest, finalTest } = adjusted({ ...network, control });
          expect(Math.abs(finalTest.weightedSquares - freeTest.weightedSquares - tests!.together)).toBeLessThan(1e-6);
          expect(finalTest.degreesOfFreedom - freeTest.degreesOfFreedom).toBe(tests!.degreesOfFreedom);
        },
      ),
      runs,
    );
  });

  it('tests one control point as the adjustment without it does', () => {
    const { network } = webOf(77);
    const all = adjusted(network);
    network.control.forEach((_, k) => {
      const without = adjusted({ ...network, control: network.control.filter((_unused, i) => i !== k) });
      const lost = all.finalTest.weightedSquares - without.finalTest.weightedSquares;
      expect(all.control!.points[k]!.test).toBeCloseTo(lost, 6);
    });
  });

  it('tests one observation as the adjustment without it does, and says what the others say of it', () => {
    const { network } = webOf(5);
    const all = adjusted(network);
    network.vectors.forEach((vector, k) => {
      const without = adjusted({ ...network, vectors: network.vectors.filter((_unused, i) => i !== k) });
      const test = all.final.tests.of(k);
      expect(test.blockTest).toBeCloseTo(all.finalTest.weightedSquares - without.finalTest.weightedSquares, 5);
      const { list } = without.final.solved;
      const [a, b] = [vector.fromId, vector.toId].map((id) =>
        adjustedPosition(without.final.solved, list.indexOf.get(id)!)!,
      );
      if (vector.shared.length === 0)
        expect(test.othersMinusObserved[0]).toBeCloseTo(b!.xM - a!.xM - vector.difference.xM, 8);
    });
  });

  it('gives the same bytes in whatever order the stations are met', () => {
    const { network } = webOf(11);
    const renamed = (id: string): string => id;
    const one = adjusted(network);
    const two = adjusted({ ...network, control: [...network.control].reverse() });
    NAMES.forEach((id) => {
      const of = ({ final }: AdjustedNetwork): unknown =>
        adjustedPosition(final.solved, final.solved.list.indexOf.get(renamed(id))!);
      expect(JSON.stringify(of(two))).toBe(JSON.stringify(of(one)));
    });
  });

  it('changes nothing but its sigmas by an observation at its adjusted value', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { network } = webOf(seed);
        const before = adjusted(network);
        const { list } = before.final.solved;
        const place = (id: string): ReturnType<typeof at> =>
          adjustedPosition(before.final.solved, list.indexOf.get(id)!)!;
        const [a, b] = [place('B'), place('F')];
        const more: VectorObservation = {
          fromId: 'B',
          toId: 'F',
          difference: at(b.xM - a.xM, b.yM - a.yM, b.zM - a.zM),
          covariance: { xx: 1e-6, xy: 0, xz: 0, yy: 1e-6, yz: 0, zz: 1e-6 },
          shared: [],
        };
        const after = adjusted({ ...network, vectors: [...network.vectors, more] });
        expect(Math.abs(after.finalTest.weightedSquares - before.finalTest.weightedSquares)).toBeLessThan(1e-6);
        const [q, r] = [new Float64Array(9), new Float64Array(9)];
        NAMES.forEach((id, i) => {
          const p = adjustedPosition(after.final.solved, i)!;
          expect(Math.hypot(p.xM - place(id).xM, p.yM - place(id).yM, p.zM - place(id).zM)).toBeLessThan(1e-7);
          before.final.cofactors.ofBlocks(i, i, q);
          after.final.cofactors.ofBlocks(i, i, r);
          expect(r[0]).toBeLessThanOrEqual(q[0]! * (1 + 1e-9));
          if (id === 'F') expect(r[0]).toBeLessThan(0.9 * q[0]!);
        });
      }),
      runs,
    );
  });

  it('with shared errors as unknowns equals the full covariance to 1e-8', () => {
    const { network } = madeNetwork(20);
    const { solved } = adjusted(network).final;
    const { list, solution } = solved;
    // x alone, with the covariance of the vectors that base and day errors make.
    const n = network.vectors.length;
    for (const axis of [0, 1, 2]) {
      const covariance = new Float64Array(n * n);
      const observed = new Float64Array(n);
      network.vectors.forEach((a, i) => {
        const base = network.control.find(({ id }) => id === a.fromId)!.position!;
        observed[i] = [a.difference.xM + base.xM, a.difference.yM + base.yM, a.difference.zM + base.zM][axis]!;
        network.vectors.forEach((b, j) => {
          covariance[i * n + j] =
            (i === j ? axisOf(a.covariance as Symmetric3)[axis]! : 0) +
            (a.fromId === b.fromId ? 1e-4 : 0) +
            (a.shared[0]!.error === b.shared[0]!.error ? 25e-6 : 0);
        });
      });
      const weight = choleskyInverse(choleskyFactor(covariance, n)!, n);
      const points = [...new Set(network.vectors.map(({ toId }) => toId))];
      const u = points.length;
      const normal = new Float64Array(u * u);
      const right = new Float64Array(u);
      const column = network.vectors.map(({ toId }) => points.indexOf(toId));
      for (let i = 0; i < n; i += 1)
        for (let j = 0; j < n; j += 1) {
          normal[column[i]! * u + column[j]!]! += weight[i * n + j]!;
          right[column[i]!]! += weight[i * n + j]! * observed[j]!;
        }
      const q = choleskyInverse(choleskyFactor(normal, u)!, u);
      points.forEach((id, p) => {
        let x = 0;
        for (let k = 0; k < u; k += 1) x += q[p * u + k]! * right[k]!;
        const index = list.indexOf.get(id)!;
        const { xM, yM, zM } = adjustedPosition(solved, index)!;
        expect(Math.abs([xM, yM, zM][axis]! - x)).toBeLessThan(1e-8);
        const own = crossCofactor(solution.factor, pathOf(solution.factor, index), pathOf(solution.factor, index));
        expect(Math.abs(own[axis * 4]! - q[p * u + p]!)).toBeLessThan(1e-8 * q[p * u + p]!);
      });
    }
  });

  it('moves a station by a bias no larger than its external reliability says, and by it in the worst direction', () => {
    const { network } = webOf(3);
    const clean = adjusted(network);
    const { solved, cofactors } = clean.final;
    const block = solved.list.indexOf.get('B')!;
    const k = network.vectors.findIndex(({ toId }) => toId === 'B');
    const reach = biasReach(solved.solution, cofactors)(k, block);
    const random = seededRandom(8);
    let largest = 0;
    for (let turn = 0; turn < 400; turn += 1) {
      const bias = [random.normal(), random.normal(), random.normal()];
      const vector = network.vectors[k]!;
      const scale = 1e-4;
      const moved = adjusted({
        ...network,
        vectors: network.vectors.map((own, i) =>
          i === k
            ? {
                ...own,
                difference: at(
                  vector.difference.xM + scale * bias[0]!,
                  vector.difference.yM + scale * bias[1]!,
                  vector.difference.zM + scale * bias[2]!,
                ),
              }
            : own,
        ),
      });
      const test = (a: AdjustedNetwork, start: AdjustedNetwork): number => {
        // The noncentrality of the bias: what the residuals it makes weigh, by the change of vᵀPv about its least.
        const { equations } = a.final.solved.built;
        const dv = a.final.tests.residuals.map((v, row) => v - start.final.tests.residuals[row]!);
        let sum = 0;
        for (let i = 0; i < equations.count; i += 1) {
          const { weight, observed } = observationAt(equations, i);
          const m = observed.length;
          const row = equations.rowStarts[i]!;
          for (let r = 0; r < m; r += 1)
            for (let s = 0; s < m; s += 1) sum += dv[row + r]! * weight[r * m + s]! * dv[row + s]!;
        }
        return Math.sqrt(sum);
      };
      const [p, q] = [adjustedPosition(moved.final.solved, block)!, adjustedPosition(solved, block)!];
      const ratio = Math.hypot(p.xM - q.xM, p.yM - q.yM, p.zM - q.zM) / test(moved, clean);
      largest = Math.max(largest, ratio);
      expect(ratio).toBeLessThan(reach * (1 + 1e-4));
    }
    expect(largest).toBeGreaterThan(0.93 * reach);
  });

  it('takes out the one blunder it is given, and no other, and never without being asked', () => {
    const { network } = webOf(21);
    const vectors = network.vectors.map((vector, k) =>
      k === 7
        ? { ...vector, difference: at(vector.difference.xM + 0.15, vector.difference.yM, vector.difference.zM) }
        : vector,
    );
    expect(adjusted({ ...network, vectors }).excluded).toEqual([]);
    const { excluded } = adjusted({ ...network, vectors }, { ...PLAIN, excludesOutliers: true });
    expect(excluded.map(({ index }) => index)).toEqual([7]);
  });

  it('finds many blunders from the least sum of absolute residuals', () => {
    const { network } = madeNetwork(60, 7);
    const of = new Map<string, number[]>();
    network.vectors.forEach(({ toId }, k) => of.set(toId, [...(of.get(toId) ?? []), k]));
    // One of three vectors of every second point that has three.
    const chosen = [...of.values()]
      .filter(({ length }) => length === 3)
      .flatMap((own, k) => (k % 2 === 0 ? [own[k % 3]!] : []));
    expect(chosen.length).toBeGreaterThan(6);
    const vectors = network.vectors.map((vector, k) =>
      chosen.includes(k)
        ? {
            ...vector,
            difference: at(vector.difference.xM + 2 + k / 50, vector.difference.yM - 1, vector.difference.zM),
          }
        : vector,
    );
    const { excluded, freeTest } = adjusted({ ...network, vectors }, { ...PLAIN, excludesOutliers: true });
    expect(excluded.map(({ index }) => index).sort((a, b) => a - b)).toEqual(chosen);
    expect(freeTest.answer).not.toBe('too-large');
  });

  it('names the stations of a part that nothing holds, and does not solve', () => {
    const { network } = webOf(4);
    const vectors = [...network.vectors, { ...network.vectors[0]!, fromId: 'X', toId: 'Y' }];
    const outcome = adjustNetwork({ ...network, vectors }, PLAIN);
    expect(outcome.ok).toBe(false);
    expect(outcome.problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'network-loose: nothing gives a place to the part of the network that holds X, Y',
    ]);
  });

  it('names a station that only a distance reaches as loose, and one without a height as well, and a net hung on next to nothing as undetermined', () => {
    const { network, truths } = webOf(4);
    const distance = { fromId: 'A', toId: 'Z', distanceM: 100, sigmaM: 0.002, fromUpM: 0, toUpM: 0 };
    const loose = adjustNetwork({ ...network, distances: [distance] }, PLAIN);
    expect(loose.problems.map(({ code }) => code)).toEqual(['network-loose']);
    const a = truths.get('A')!;
    const free = adjustNetwork(
      {
        ...network,
        distances: [distance],
        control: [
          ...network.control,
          {
            ...fixed('Z', at(a.xM + 60, a.yM + 80, a.zM)),
            held: 'plan',
            covariance: { xx: 1e-4, xy: 0, xz: 0, yy: 1e-4, yz: 0, zz: 1e-4 },
          },
        ],
      },
      PLAIN,
    );
    expect(free.problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'network-loose: nothing gives a height to the station Z',
    ]);
    const control = network.control.map((point) => ({
      ...point,
      covariance: { xx: 1e12, xy: 0, xz: 0, yy: 1e12, yz: 0, zz: 1e12 },
    }));
    expect(adjustNetwork({ ...network, control }, PLAIN).problems.map(({ code }) => code)).toEqual([
      'network-undetermined',
    ]);
  });

  it('brings places that began far off to where distances and levelling put them', () => {
    const { network, truths } = webOf(31, 0);
    const [a, b] = [truths.get('A')!, truths.get('B')!];
    const distances = [
      {
        fromId: 'A',
        toId: 'B',
        distanceM: Math.hypot(b.xM - a.xM, b.yM - a.yM, b.zM - a.zM),
        sigmaM: 0.001,
        fromUpM: 0,
        toUpM: 0,
      },
    ];
    const control = network.control.map((point) =>
      point.id === 'A'
        ? point
        : {
            ...point,
            covariance: { xx: 1e4, xy: 0, xz: 0, yy: 1e4, yz: 0, zz: 1e4 },
            position: at(point.position!.xM + 40, point.position!.yM, point.position!.zM),
          },
    );
    const { final, finalTest } = adjusted({ ...network, distances, control });
    const p = adjustedPosition(final.solved, final.solved.list.indexOf.get('B')!)!;
    expect(Math.hypot(p.xM - b.xM, p.yM - b.yM, p.zM - b.zM)).toBeLessThan(1e-4);
    expect(finalTest.weightedSquares).toBeLessThan(1);
  });

  it('tells by variance components which group was noisier than it says', () => {
    const { network } = madeNetwork(400, 12);
    const random = seededRandom(4);
    const vectors = network.vectors.map((vector) =>
      vector.fromId === 'B3'
        ? {
            ...vector,
            difference: at(
              vector.difference.xM + 0.03 * random.normal(),
              vector.difference.yM + 0.03 * random.normal(),
              vector.difference.zM + 0.03 * random.normal(),
            ),
          }
        : vector,
    );
    const { solved } = adjusted({ ...network, vectors }).final;
    const bases = ['B1', 'B2', 'B3', 'B4'];
    const groups = Array.from({ length: solved.built.origins.length }, (_, at) => {
      const { kind, index } = solved.built.origins.of(at);
      return kind === 'vector' ? bases.indexOf(vectors[index]!.fromId) : -1;
    });
    const components = varianceComponents(solved.built.equations, groups, 4)!;
    for (const [k, component] of components.entries()) {
      if (k === 2) expect(component!.factor).toBeGreaterThan(2);
      else expect(Math.abs(component!.factor - 1)).toBeLessThan(4 * component!.sigma);
    }
  });

  it('solves a network of its datum alone again as the same network: the solver leaves what it is given', () => {
    const { network } = webOf(9);
    const list = networkStations(network, true);
    if ('loose' in list) throw new Error('loose');
    const choice = {
      control: network.control.map((point, index) => ({ point, index })),
      leftOut: { has: (): boolean => false },
    };
    const [one, two] = [solveNetwork(network, list, choice), solveNetwork(network, list, choice)];
    expect(one.ok && two.ok && [...one.solved.solution.unknowns]).toEqual(
      one.ok && two.ok && [...two.solved.solution.unknowns],
    );
    if (!one.ok) return;
    const { equations, factor } = one.solved.solution;
    const exchange = {
      from: one.solved.built.controlFrom,
      blocks: network.control.map(({ id }) => list.indexOf.get(id)!),
      before: null,
    };
    const again = adjustBlocks(equations, factor.order, exchange);
    expect(again.ok && [...again.solution.unknowns]).toEqual([...one.solved.solution.unknowns]);
    const fitted = new Float64Array(9);
    blockCofactors(one.solved.solution).ofObservation(0, fitted);
    expect(fitted[0]).toBeGreaterThan(0);
  });
});
