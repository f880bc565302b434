import { describe, expect, it } from 'vitest';
import { constantLimit } from '../../../../src/core/quality/standards/limit-rule.js';
import { judgeRow, noiseLimits } from '../../../../src/tasks/check/judge/check-tolerances-judge.js';
import type { UnjudgedRow } from '../../../../src/tasks/check/judge/check-tolerances-judge.js';
import type { CheckRow } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';

/** Axes that point east and north. */
const EAST_NORTH = [1, 1] as const;
const AXES = { first: 'easting', second: 'northing', signs: EAST_NORTH, metresPerUnit: 1 };

/** A row as far as it is judged; metres. Sigmas of 1 cm in plan, uncorrelated, and 2 cm in height. */
function row(firstM: number | null, secondM: number | null, upM: number | null, hasCovariance = true): UnjudgedRow {
  const covariance = { eeM2: 1e-4, nnM2: 1e-4, uuM2: 4e-4, enM2: 0, euM2: 0, nuM2: 0 };
  return { firstM, secondM, upM, distanceM: null, covariance: hasCovariance ? covariance : null } as UnjudgedRow;
}

const [PLAN, HEIGHT] = [constantLimit('plan', '2d', 0.05), constantLimit('height', 'up', 0.05)];
const judged = (...of: Parameters<typeof judgeRow>): Pick<CheckRow, 'verdict' | 'reasons'> => {
  const { verdict, reasons } = judgeRow(...of);
  return { verdict, reasons };
};

describe('noiseLimits', () => {
  // Source: COMPUTED. Šidák: p = 0.99^(1/2n); of two degrees of freedom the quantile is −2 ln(1 − p); z from Python's statistics.NormalDist.
  it.each([
    [0, 10.591615878240857, 2.8062253146879863],
    [1, 10.591615878240857, 2.8062253146879863],
    [10, 15.192265496410418, 3.479478567626295],
    [100, 19.79698343811659, 4.054459214095048],
  ])('of %i rows', (rows, chiSquare, z) => {
    expect(noiseLimits(rows, AXES).chiSquare).toBeCloseTo(chiSquare, 6);
    expect(noiseLimits(rows, AXES).z).toBeCloseTo(z, 6);
  });
});

describe('judgeRow', () => {
  const noise = { chiSquare: 10, z: 3, signs: EAST_NORTH };

  it('has the statistics of both axes: (3² + 1²) cm² over 1 cm², 6 cm over 2 cm', () => {
    const { horizontalStatistic, verticalStatistic, limits } = judgeRow(row(0.03, 0.01, -0.06), [PLAN, HEIGHT], noise);
    expect(horizontalStatistic).toBeCloseTo(10, 9);
    expect(verticalStatistic).toBeCloseTo(3, 9);
    expect(limits.map(({ limitName, verdict }) => [limitName, verdict])).toEqual([
      ['plan', 'within'],
      ['height', 'exceeds'],
    ]);
  });

  it.each([
    [[1, 1], 4 / 3],
    [[-1, -1], 4 / 3],
    [[-1, 1], 4],
    [[1, -1], 4],
  ] as const)(
    'holds a difference along axes that count %j against a covariance along east and north',
    (signs, expected) => {
      // Sigmas of 1 cm with a correlation of a half; 1 cm along both axes: (1 ∓ 1 + 1)/0.75.
      const correlated = { eeM2: 1e-4, nnM2: 1e-4, uuM2: 4e-4, enM2: 0.5e-4, euM2: 0, nuM2: 0 };
      const own = { ...row(0.01, 0.01, null), covariance: correlated };
      expect(judgeRow(own, [], { ...noise, signs }).horizontalStatistic).toBeCloseTo(expected, 9);
    },
  );

  it('is decided by a limit where the axis has one, and notes the noise beside it', () => {
    expect(judged(row(0.04, 0, 0.01), [PLAN, HEIGHT], noise)).toEqual({
      verdict: 'within',
      reasons: ['check-horizontal-noise'],
    });
    expect(judged(row(0.03, 0, 0.07), [PLAN, HEIGHT], noise)).toEqual({
      verdict: 'exceeds',
      reasons: ['check-vertical-limit', 'check-vertical-noise'],
    });
    expect(judged(row(0.06, 0, 0.01), [PLAN, HEIGHT], noise)).toEqual({
      verdict: 'exceeds',
      reasons: ['check-horizontal-limit', 'check-horizontal-noise'],
    });
  });

  it('is decided by its uncertainty where an axis has no limit', () => {
    expect(judged(row(0.03, 0, 0.01), [], noise)).toEqual({ verdict: 'within', reasons: [] });
    expect(judged(row(0.04, 0, 0.01), [], noise)).toEqual({ verdict: 'exceeds', reasons: ['check-horizontal-noise'] });
    expect(judged(row(0.01, 0, 0.07), [PLAN], noise)).toEqual({
      verdict: 'exceeds',
      reasons: ['check-vertical-noise'],
    });
  });

  it('is for review where one axis was judged by nothing, and not stated where none was judged', () => {
    expect(judged(row(0.01, 0, 0.01, false), [PLAN], noise)).toEqual({
      verdict: 'review',
      reasons: ['check-axis-unjudged'],
    });
    expect(judged(row(0.01, 0, 0.01, false), [], noise)).toEqual({
      verdict: 'not-stated',
      reasons: ['check-axis-unjudged'],
    });
    expect(judged(row(0.01, 0, null, false), [PLAN], noise)).toEqual({ verdict: 'within', reasons: [] });
    expect(judged(row(null, null, 0.01), [PLAN], noise)).toEqual({ verdict: 'within', reasons: [] });
  });

  it('is not stated where a limit needs a distance that is not known, and says each reason once', () => {
    const far = { ...PLAN, name: 'far', ppm: 10 };
    expect(judged(row(0.01, 0, 0.01), [far, { ...far, name: 'farther' }, HEIGHT], noise)).toEqual({
      verdict: 'not-stated',
      reasons: ['check-not-stated'],
    });
    expect(judged(row(0.06, 0, 0.01), [PLAN, { ...PLAN, name: 'again' }], noise).reasons).toEqual([
      'check-horizontal-limit',
      'check-horizontal-noise',
    ]);
  });
});
