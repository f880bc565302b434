import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { assignPoints } from '../../../../src/core/planning/siting/assign-points.js';
import { distanceMatrix } from '../../../support/distance-matrix.js';
import type { DistanceMatrix } from '../../../../src/core/planning/siting/distance-matrix.js';
import { fewestBases } from '../../../../src/core/planning/siting/fewest-bases.js';
import { kBases } from '../../../../src/core/planning/siting/k-bases.js';
import type { KBases } from '../../../../src/core/planning/siting/k-bases.js';
import type { BaseCandidate, PlanPlace } from '../../../../src/core/planning/plan-point.js';
import { seededRandom } from '../../../support/seeded-random.js';

const geodesic = createGeodesic(WGS84);

function candidateAt(id: string, { latitudeDeg, longitudeDeg }: PlanPlace): BaseCandidate {
  return { id, latitudeDeg, longitudeDeg, ellipsoidalHeightM: null, cellular: null, skyScore: null, cost: null };
}

interface Problem {
  readonly candidates: readonly BaseCandidate[];
  readonly matrix: DistanceMatrix;
}

function problemOf(seed: number, candidateCount: number, pointCount: number, weighted: boolean): Problem {
  const random = seededRandom(seed);
  const place = (): PlanPlace => ({ latitudeDeg: random.between(-32, -31), longitudeDeg: random.between(20, 21.5) });
  const candidates = Array.from({ length: candidateCount }, (_, i) => candidateAt(`C${String(i)}`, place()));
  const points = Array.from({ length: pointCount }, place);
  const rangesM = Float64Array.from(points, () => (weighted ? random.between(15_000, 60_000) : 40_000));
  return { candidates, matrix: distanceMatrix(geodesic, candidates, points, rangesM) };
}

/** Every set of k of the numbers 0…n−1. */
function* subsets(n: number, k: number, from = 0): Generator<readonly number[]> {
  if (k === 0) {
    yield [];
    return;
  }
  for (let first = from; first <= n - k; first += 1) {
    for (const rest of subsets(n, k - 1, first + 1)) yield [first, ...rest];
  }
}

function solve({ candidates, matrix }: Problem, k: number): KBases {
  const found = kBases(candidates, matrix, k);
  if (!found.ok) throw new Error(found.problems[0]?.message ?? 'no answer');
  return found.value;
}

describe('kBases', () => {
  it('equals brute force over all sets on every layout of up to 12 candidates and K up to 4', () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const count = 1 + (seed % 12);
      const problem = problemOf(seed, count, 5 + (seed % 40), seed % 2 === 0);
      for (let k = 1; k <= Math.min(4, count); k += 1) {
        let least = Infinity;
        for (const set of subsets(count, k)) least = Math.min(least, assignPoints(problem.matrix, set).worstRatio);
        const found = solve(problem, k);
        expect(found.worstRatio, `seed ${String(seed)}, K ${String(k)}`).toBe(least);
        expect(found.exact).toBe(true);
        expect(found.bases).toHaveLength(k);
        expect(new Set(found.bases).size).toBe(k);
      }
    }
  });

  it('proves its answer for 50 candidates', () => {
    for (const k of [2, 5, 9]) {
      const problem = problemOf(200 + k, 50, 400, k === 5);
      const found = solve(problem, k);
      expect(found.exact).toBe(true);
      expect(found.lowerBoundRatio).toBe(found.worstRatio);
    }
  });

  it('answers above 50 candidates with a bound that holds, and within 3 times the bound', () => {
    for (const seed of [301, 302, 303]) {
      const problem = problemOf(seed, 80, 300, false);
      for (const k of [1, 3, 6]) {
        const found = solve(problem, k);
        expect(found.bases).toHaveLength(k);
        expect(found.lowerBoundRatio).toBeLessThanOrEqual(found.worstRatio);
        expect(found.worstRatio).toBeLessThanOrEqual(3 * found.lowerBoundRatio);
        if (k === 1) {
          const least = Math.min(...Array.from({ length: 80 }, (_, c) => assignPoints(problem.matrix, [c]).worstRatio));
          expect(found.worstRatio).toBe(least);
        }
        if (k === 3) {
          let least = Infinity;
          for (const set of subsets(80, 3)) {
            // A set that leaves the first points badly served cannot be the best: look at those first.
            let worst = 0;
            for (let p = 0; p < 300 && worst < least; p += 1) {
              worst = Math.max(worst, Math.min(...set.map((c) => problem.matrix.ratio[c * 300 + p] ?? Infinity)));
            }
            least = Math.min(least, worst);
          }
          expect(found.lowerBoundRatio).toBeLessThanOrEqual(least);
          expect(found.worstRatio).toBeGreaterThanOrEqual(least);
        }
      }
    }
  });

  it('never gets worse with one more base, and assigns every point its nearest base', () => {
    const problem = problemOf(7, 12, 60, true);
    let before = Infinity;
    for (let k = 1; k <= 12; k += 1) {
      const found = solve(problem, k);
      expect(found.worstRatio).toBeLessThanOrEqual(before);
      before = found.worstRatio;
      found.assignments.base.forEach((base, point) => {
        const ratios = found.bases.map((c) => problem.matrix.ratio[c * 60 + point] ?? Infinity);
        expect(problem.matrix.ratio[base * 60 + point]).toBe(Math.min(...ratios));
      });
    }
  });

  it('gives the same bases whatever the order of the candidates', () => {
    const { candidates, matrix } = problemOf(9, 10, 40, false);
    const turned = [...candidates].reverse();
    const ratio = new Float64Array(matrix.ratio.length);
    const distanceM = new Float64Array(matrix.ratio.length);
    for (let c = 0; c < 10; c += 1) {
      ratio.set(matrix.ratio.subarray((9 - c) * 40, (10 - c) * 40), c * 40);
      distanceM.set(matrix.distanceM.subarray((9 - c) * 40, (10 - c) * 40), c * 40);
    }
    const names = (list: readonly BaseCandidate[], m: DistanceMatrix): readonly string[] =>
      solve({ candidates: list, matrix: m }, 3)
        .bases.map((c) => list[c]?.id ?? '')
        .sort();
    expect(names(turned, { ...matrix, ratio, distanceM })).toEqual(names(candidates, matrix));
  });

  it('refuses K of zero, K larger than the candidates, and no points', () => {
    const problem = problemOf(3, 4, 10, false);
    for (const k of [0, 5, 1.5])
      expect(kBases(problem.candidates, problem.matrix, k).problems.map(({ code }) => code)).toEqual(['usage-invalid']);
    const none = distanceMatrix(geodesic, problem.candidates, [], new Float64Array(0));
    expect(kBases(problem.candidates, none, 1).ok).toBe(false);
  });
});

describe('fewestBases', () => {
  it('equals brute force on layouts of up to 12 candidates, and names the points nobody serves', () => {
    let unservedSeen = 0;
    for (let seed = 400; seed < 440; seed += 1) {
      const count = 2 + (seed % 11);
      const { candidates, matrix } = problemOf(seed, count, 25, true);
      const found = fewestBases(candidates, matrix);
      const all = Array.from({ length: count }, (_, i) => i);
      const best = assignPoints(matrix, all).ratio;
      const unserved = [...best.keys()].filter((p) => (best[p] ?? 0) > 1);
      unservedSeen += unserved.length;
      expect(found.unserved).toEqual(unserved);
      const serves = (set: readonly number[]): boolean =>
        assignPoints(matrix, set).ratio.every((r, p) => r <= 1 || unserved.includes(p));
      if (unserved.length < 25) expect(serves(found.bases)).toBe(true);
      let least = unserved.length === 25 ? 0 : count;
      for (let k = 1; k < least; k += 1) {
        for (const set of subsets(count, k)) if (serves(set)) least = Math.min(least, k);
      }
      expect(found.bases, `seed ${String(seed)}`).toHaveLength(least);
      expect(found.exact).toBe(true);
      expect(found.lowerBound).toBe(least);
    }
    expect(unservedSeen).toBeGreaterThan(0);
  });

  it('serves 60 candidates with a bound at most its answer', () => {
    const { candidates, matrix } = problemOf(500, 60, 500, true);
    const found = fewestBases(candidates, matrix);
    expect(found.lowerBound).toBeLessThanOrEqual(found.bases.length);
    expect(found.lowerBound).toBeGreaterThan(0);
    expect(assignPoints(matrix, found.bases).ratio.every((r, p) => r <= 1 || found.unserved.includes(p))).toBe(true);
  });
});
