import { describe, expect, it } from 'vitest';
import { combineOccupations } from '../../../../src/core/observation/repeats/combine-occupations.js';
import {
  ZERO_COVARIANCE,
  diagonalCovariance,
  sumCovariance,
} from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { OccupationEstimate } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { splitCombined } from '../../../../src/core/observation/repeats/split-combined.js';
import type { CombinedParts, HeldParts } from '../../../../src/core/observation/repeats/split-combined.js';
import type { LocalCovariance } from '../../../../src/records/points/point.js';
import { seededRandom } from '../../../support/seeded-random.js';

const TIMES = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
const KEYS = ['eeM2', 'enM2', 'euM2', 'nnM2', 'nuM2', 'uuM2'] as const;
const mm2 = (value: number): number => value * value * 1e-6;

/** A covariance with correlations, of about `mm` in each axis. */
function tilted(random: () => number, mm: number): LocalCovariance {
  const rows = [0, 1, 2].map(() => [0, 1, 2].map(() => (mm / 1000) * (2 * random() - 1)));
  const of = (i: number, j: number): number =>
    [0, 1, 2].reduce((sum, k) => sum + (rows[i]?.[k] ?? 0) * (rows[j]?.[k] ?? 0), 0);
  return { eeM2: of(0, 0), enM2: of(0, 1), euM2: of(0, 2), nnM2: of(1, 1), nuM2: of(1, 2), uuM2: of(2, 2) };
}

function sumOfParts(parts: CombinedParts): LocalCovariance {
  return [parts.noise, parts.correlated, parts.baseline, parts.age, parts.pole, parts.base, parts.bend].reduce(
    sumCovariance,
    ZERO_COVARIANCE,
  );
}

function held(pole: LocalCovariance, change: Partial<HeldParts> = {}): HeldParts {
  return { pole, age: ZERO_COVARIANCE, bend: ZERO_COVARIANCE, ...change };
}

const PLAIN = {
  position: { eastM: 0, northM: 0, upM: 0 },
  correlated: ZERO_COVARIANCE,
  baseline: ZERO_COVARIANCE,
  mark: ZERO_COVARIANCE,
  setup: ZERO_COVARIANCE,
  independent: ZERO_COVARIANCE,
  markKey: 'B1',
  setupKey: 'B1',
  baselineM: 20_000,
  startMs: 0,
  endMs: 60_000,
} as const satisfies OccupationEstimate;

describe('splitCombined', () => {
  it('has parts that add up to the covariance of the joining, for any occupations, bases and times', () => {
    const generator = seededRandom(29);
    const random = (): number => generator.next();
    for (let run = 0; run < 200; run += 1) {
      const count = 1 + Math.floor(5 * random());
      const mark = tilted(random, 8);
      const setup = tilted(random, 3);
      const bend = run % 2 === 0 ? ZERO_COVARIANCE : tilted(random, 4);
      const ages = Array.from({ length: count }, () =>
        run % 3 === 0 ? ZERO_COVARIANCE : diagonalCovariance(mm2(4 * random()), mm2(4 * random()), mm2(4 * random())),
      );
      const poles = Array.from({ length: count }, () => tilted(random, 6));
      const estimates = Array.from({ length: count }, (_, i): OccupationEstimate => {
        const startMs = random() < 0.1 ? null : Math.floor(2e7 * random());
        return {
          ...PLAIN,
          independent: sumCovariance(poles[i]!, tilted(random, 3)),
          correlated: sumCovariance(
            ages[i]!,
            diagonalCovariance(mm2(9 * random()), mm2(9 * random()), mm2(20 * random())),
          ),
          baseline: diagonalCovariance(mm2(30 * random()), mm2(30 * random()), mm2(40 * random())),
          mark,
          setup: sumCovariance(setup, bend),
          markKey: random() < 0.3 ? 'B2' : 'B1',
          setupKey: random() < 0.3 ? 'morning' : 'evening',
          startMs,
          endMs: startMs === null ? null : startMs + 60_000,
        };
      });
      const { covariance, weights } = combineOccupations(estimates, TIMES);
      const parts = splitCombined(
        estimates,
        poles.map((pole, i) => held(pole, { age: ages[i]!, bend })),
        TIMES,
        weights,
      );
      const sum = sumOfParts(parts);
      for (const key of KEYS)
        expect(Math.abs(sum[key] - covariance[key])).toBeLessThan(
          1e-9 * (covariance.eeM2 + covariance.nnM2 + covariance.uuM2),
        );
      for (const part of Object.values(parts))
        for (const key of ['eeM2', 'nnM2', 'uuM2'] as const) expect(part[key]).toBeGreaterThan(-1e-12);
    }
  });

  it('halves noise and pole of two equal occupations far apart and leaves the shared base whole', () => {
    const pole = diagonalCovariance(mm2(5), mm2(5), mm2(1));
    const one = {
      ...PLAIN,
      independent: sumCovariance(pole, diagonalCovariance(mm2(3), mm2(3), mm2(6))),
      correlated: diagonalCovariance(mm2(8), mm2(8), mm2(12)),
      mark: diagonalCovariance(mm2(10), mm2(10), mm2(15)),
    };
    const estimates = [one, { ...one, startMs: 9e8, endMs: 9e8 + 60_000 }];
    const parts = splitCombined(
      estimates,
      [held(pole), held(pole)],
      TIMES,
      combineOccupations(estimates, TIMES).weights,
    );
    expect(parts.noise.eeM2).toBeCloseTo((mm2(3) + 1e-8) / 2, 12);
    expect(parts.pole.nnM2).toBeCloseTo(mm2(5) / 2, 12);
    expect(parts.correlated.uuM2).toBeCloseTo(mm2(12) / 2, 12);
    expect(parts.base.eeM2).toBeCloseTo(mm2(10), 12);
    expect(parts.baseline.eeM2).toBe(0);
  });

  it('leaves the bend of a wrong base whole, and of the age what its correlation in time leaves', () => {
    const bend = diagonalCovariance(mm2(4), mm2(4), mm2(6));
    const age = diagonalCovariance(mm2(6), mm2(6), mm2(6));
    const one = {
      ...PLAIN,
      independent: diagonalCovariance(mm2(3), mm2(3), mm2(6)),
      correlated: sumCovariance(age, diagonalCovariance(mm2(8), mm2(8), mm2(8))),
      mark: diagonalCovariance(mm2(10), mm2(10), mm2(15)),
      setup: bend,
    };
    const parts = (startMs: number): CombinedParts => {
      const estimates = [one, { ...one, startMs, endMs: startMs + 60_000 }];
      return splitCombined(
        estimates,
        [held(ZERO_COVARIANCE, { age, bend }), held(ZERO_COVARIANCE, { age, bend })],
        TIMES,
        combineOccupations(estimates, TIMES).weights,
      );
    };
    expect(parts(9e8).bend.eeM2).toBeCloseTo(mm2(4), 12);
    expect(parts(9e8).base.eeM2).toBeCloseTo(mm2(10), 12);
    expect(parts(9e8).age.uuM2).toBeCloseTo(mm2(6) / 2, 12);
    expect(parts(9e8).correlated.uuM2).toBeCloseTo(mm2(8) / 2, 12);
    expect(parts(0).age.uuM2).toBeCloseTo(mm2(6), 12);
  });

  it('halves the base as well where each occupation has its own', () => {
    const mark = diagonalCovariance(mm2(10), mm2(10), mm2(15));
    const estimates = [
      { ...PLAIN, mark },
      { ...PLAIN, mark, markKey: 'B2' },
    ];
    expect(
      splitCombined(
        estimates,
        [held(ZERO_COVARIANCE), held(ZERO_COVARIANCE)],
        TIMES,
        combineOccupations(estimates, TIMES).weights,
      ).base.eeM2,
    ).toBeCloseTo(mm2(10) / 2, 12);
  });
});
