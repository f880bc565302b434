import { describe, expect, it } from 'vitest';
import { choleskyFactor, choleskySolve } from '../../../../src/core/numeric/linear-solve.js';
import { combineOccupations, jointSquares } from '../../../../src/core/observation/repeats/combine-occupations.js';
import {
  diagonalCovariance,
  sumCovariance,
  ZERO_COVARIANCE,
} from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type {
  CorrelationTimes,
  OccupationEstimate,
} from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { splitCombined } from '../../../../src/core/observation/repeats/split-combined.js';
import type { LocalCovariance } from '../../../../src/records/points/point.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';

const TIMES = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
const mm2 = (value: number): number => value * value * 1e-6;
const KEYS = [
  ['eeM2', 'enM2', 'euM2'],
  ['enM2', 'nnM2', 'nuM2'],
  ['euM2', 'nuM2', 'uuM2'],
] as const;

/** What one has of a mark that the other has too: its own, or one that its own was measured from. */
function inheritedBoth(a: OccupationEstimate, b: OccupationEstimate, key: keyof LocalCovariance): number {
  const ofB = [b.markKey, ...(b.inherited ?? []).map(({ markKey }) => markKey)];
  const fromA = (a.inherited ?? []).filter(({ markKey }) => ofB.includes(markKey));
  const isMarkOfA = (b.inherited ?? []).some(({ markKey }) => markKey === a.markKey);
  return fromA.reduce((sum, { covariance }) => sum + covariance[key], 0) + (isMarkOfA ? a.mark[key] : 0);
}

/** The definition itself: every covariance between every two occupations in one matrix. */
function dense(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
  untimedRho: number,
): { position: number[]; covariance: number[][]; chiSquare: number } {
  const size = 3 * estimates.length;
  const c = new Float64Array(size * size);
  const timed = estimates.every(({ startMs }) => startMs !== null);
  const middle = (e: OccupationEstimate): number => ((e.startMs ?? 0) + (e.endMs ?? 0)) / 2000;
  estimates.forEach((a, i) => {
    estimates.forEach((b, j) => {
      const isMark = a.markKey === b.markKey;
      const isSetup = isMark && a.setupKey === b.setupKey;
      for (const row of [0, 1, 2] as const) {
        for (const column of [0, 1, 2] as const) {
          const key = KEYS[row][column];
          let value = (isMark ? a.mark[key] : 0) + (isSetup ? a.setup[key] : 0) + inheritedBoth(a, b, key);
          if (i === j) value += a.independent[key] + (row === column ? 1e-8 : 0);
          if (row === column) {
            const tau = row === 2 ? times.correlationVerticalS : times.correlationHorizontalS;
            const rho =
              i === j ? 1 : timed ? (tau > 0 ? Math.exp(-Math.abs(middle(a) - middle(b)) / tau) : 0) : untimedRho;
            value +=
              rho *
              (Math.sqrt(a.correlated[key] * b.correlated[key]) +
                (isMark ? Math.sqrt(a.baseline[key] * b.baseline[key]) : 0));
          }
          c[(3 * i + row) * size + 3 * j + column] = value;
        }
      }
    });
  });
  const factor = choleskyFactor(c, size)!;
  const unit = [0, 1, 2].map((axis) =>
    choleskySolve(
      factor,
      size,
      Float64Array.from({ length: size }, (_, i) => (i % 3 === axis ? 1 : 0)),
    ),
  );
  const x = Float64Array.from(estimates.flatMap(({ position: { eastM, northM, upM } }) => [eastM, northM, upM]));
  const n = new Float64Array(9);
  for (let row = 0; row < 3; row += 1)
    for (let column = 0; column < 3; column += 1)
      for (let i = row; i < size; i += 3) n[3 * row + column]! += unit[column]![i]!;
  const nFactor = choleskyFactor(n, 3)!;
  const right = Float64Array.from(unit.map((column) => column.reduce((sum, weight, i) => sum + weight * x[i]!, 0)));
  const position = [...choleskySolve(nFactor, 3, right)];
  const covariance = [0, 1, 2].map((axis) => [
    ...choleskySolve(
      nFactor,
      3,
      Float64Array.from([0, 1, 2], (_, i) => (i === axis ? 1 : 0)),
    ),
  ]);
  const residual = x.map((value, i) => value - position[i % 3]!);
  const weighted = choleskySolve(factor, size, residual);
  return { position, covariance, chiSquare: residual.reduce((sum, value, i) => sum + value * weighted[i]!, 0) };
}

function tilted(random: SeededRandom, mm: number): LocalCovariance {
  const rows = [0, 1, 2].map(() => [0, 1, 2].map(() => (mm / 1000) * (2 * random.next() - 1)));
  const of = (i: number, j: number): number => [0, 1, 2].reduce((sum, k) => sum + rows[i]![k]! * rows[j]![k]!, 0);
  return { eeM2: of(0, 0), enM2: of(0, 1), euM2: of(0, 2), nnM2: of(1, 1), nuM2: of(1, 2), uuM2: of(2, 2) };
}

function someOccupations(random: SeededRandom, count: number, untimed: boolean): OccupationEstimate[] {
  const marks = [tilted(random, 10), tilted(random, 30)];
  const isMeasured = random.next() < 0.5;
  const setups = [tilted(random, 3), tilted(random, 4), tilted(random, 2)];
  const axis = (mm: number): LocalCovariance =>
    diagonalCovariance(mm2(mm * random.next()), mm2(mm * random.next()), mm2(2 * mm * random.next()));
  return Array.from({ length: count }, (): OccupationEstimate => {
    const startMs = untimed && random.next() < 0.5 ? null : Math.floor(1e7 * random.next());
    const mark = random.next() < 0.3 ? 1 : 0;
    const setup = Math.floor(3 * random.next());
    return {
      position: { eastM: 0.02 * random.normal(), northM: 0.02 * random.normal(), upM: 0.04 * random.normal() },
      independent: sumCovariance(tilted(random, 4), diagonalCovariance(1e-7, 1e-7, 1e-7)),
      correlated: axis(9),
      baseline: axis(15),
      mark: marks[mark]!,
      // The second mark was measured from the first, by half of the runs.
      ...(mark === 1 && isMeasured && { inherited: [{ markKey: 'M0', covariance: marks[0]! }] }),
      setup: setups[setup]!,
      markKey: `M${mark}`,
      setupKey: `S${setup}`,
      baselineM: 20_000,
      startMs,
      endMs: startMs === null ? null : startMs + 60_000,
    };
  });
}

describe('jointFilter', () => {
  it('joins and tests as the full covariance does, for any occupations, marks, set-ups and times', () => {
    const random = seededRandom(41);
    for (let run = 0; run < 300; run += 1) {
      const estimates = someOccupations(random, 1 + Math.floor(9 * random.next()), run % 5 === 0);
      const times = run % 7 === 0 ? { correlationHorizontalS: 0, correlationVerticalS: 300 } : TIMES;
      const isSecond = run % 7 === 0 && run % 5 === 0;
      if (isSecond) continue;
      const found = combineOccupations(estimates, times);
      const wanted = dense(estimates, times, 1);
      const scale = Math.sqrt(found.covariance.eeM2 + found.covariance.nnM2 + found.covariance.uuM2);
      [found.position.eastM, found.position.northM, found.position.upM].forEach((value, axis) =>
        expect(Math.abs(value - wanted.position[axis]!)).toBeLessThan(1e-7 * scale + 1e-12),
      );
      for (const row of [0, 1, 2] as const)
        for (const column of [0, 1, 2] as const)
          expect(Math.abs(found.covariance[KEYS[row][column]] - wanted.covariance[row]![column]!)).toBeLessThan(
            1e-8 * scale * scale,
          );
      expect(Math.abs(found.chiSquare - wanted.chiSquare)).toBeLessThan(1e-7 * (1 + wanted.chiSquare));
      const weighted = found.weights.reduce(
        (sum, { xx, xy, xz }, i) =>
          sum +
          xx * estimates[i]!.position.eastM +
          xy * estimates[i]!.position.northM +
          xz * estimates[i]!.position.upM,
        0,
      );
      expect(Math.abs(weighted - found.position.eastM)).toBeLessThan(1e-7 * scale + 1e-12);
      expect(Math.abs(jointSquares(estimates, times).chiSquare - dense(estimates, times, 0).chiSquare)).toBeLessThan(
        1e-7 * (1 + wanted.chiSquare),
      );
    }
  });

  it('joins by what the test has solved as it joins by itself, with and without times', () => {
    const random = seededRandom(43);
    for (let run = 0; run < 60; run += 1) {
      const estimates = someOccupations(random, 1 + Math.floor(6 * random.next()), run % 3 === 0);
      expect(jointSquares(estimates, TIMES).joined()).toStrictEqual(combineOccupations(estimates, TIMES));
    }
  });

  it('says what each occupation adds to the sum of squares as leaving it out does', () => {
    const random = seededRandom(42);
    for (let run = 0; run < 100; run += 1) {
      const estimates = someOccupations(random, 3 + Math.floor(6 * random.next()), false);
      const { chiSquare, gains } = jointSquares(estimates, TIMES);
      gains().forEach((gain, index) => {
        const without = jointSquares(
          estimates.filter((_, other) => other !== index),
          TIMES,
        ).chiSquare;
        expect(Math.abs(chiSquare - gain - without)).toBeLessThan(1e-6 * (1 + chiSquare));
      });
    }
  });

  it('gains the whole sum of squares where two occupations are all there are', () => {
    const { chiSquare, gains } = jointSquares(someOccupations(seededRandom(3), 2, false), TIMES);
    for (const gain of gains()) expect(Math.abs(gain / chiSquare - 1)).toBeLessThan(1e-6);
  });

  it('joins, splits and tests 4,000 stands of one point, each of whose parts sum to the whole', () => {
    const random = seededRandom(5);
    const all = someOccupations(random, 4000, false).map((estimate, index) => ({
      ...estimate,
      setupKey: `day ${Math.floor(index / 6)}`,
      setup: diagonalCovariance(4e-6, 4e-6, 4e-6),
      startMs: index * 14_400_000,
      endMs: index * 14_400_000 + 60_000,
    }));
    for (const count of [200, 4000]) {
      const estimates = all.slice(0, count);
      const { weights, covariance } = combineOccupations(estimates, TIMES);
      const parts = splitCombined(
        estimates,
        estimates.map(() => ({ pole: ZERO_COVARIANCE, age: ZERO_COVARIANCE, bend: ZERO_COVARIANCE })),
        TIMES,
        weights,
      );
      expect(jointSquares(estimates, TIMES).gains()).toHaveLength(count);
      expect(parts.noise.eeM2 + parts.correlated.eeM2 + parts.baseline.eeM2 + parts.base.eeM2).toBeCloseTo(
        covariance.eeM2,
        12,
      );
    }
  });
});
