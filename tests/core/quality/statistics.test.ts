import { describe, expect, it } from 'vitest';
import { leastSquaresLine } from '../../../src/core/quality/least-squares-line.js';
import { nssdaHorizontal, nssdaVertical } from '../../../src/core/quality/standards/nssda.js';
import { sampleStatistics } from '../../../src/core/quality/standards/sample-statistics.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';

describe('sampleStatistics', () => {
  it.each(readReferenceTable('statistics').map((row) => [row.case, row] as const))(
    'gives the certified mean and deviation of %s',
    (_, row) => {
      const pair = row.text('pair') === '' ? [] : row.numbers('pair');
      const values = [...row.numbers('values')];
      for (let i = 0; i < row.number('pairs'); i += 1) values.push(...pair);
      const { mean, standardDeviation } = sampleStatistics(values);
      expect(Math.abs(mean / row.number('mean') - 1)).toBeLessThanOrEqual(1e-12);
      expect(Math.abs((standardDeviation ?? 0) / row.number('standard_deviation') - 1)).toBeLessThanOrEqual(
        Math.max(row.tolerance, 1e-12),
      );
    },
  );

  it.each(readReferenceTable('statistics').map((row) => [row.case, row] as const))(
    'holds twelve digits of what the doubles of %s themselves have',
    (_, row) => {
      // Where the certified deviation cannot be had from doubles (NumAcc3, NumAcc4), theirs can: in whole numbers of 2⁻⁶⁰.
      const values = [
        ...row.numbers('values'),
        ...Array.from({ length: row.number('pairs') }, () => row.numbers('pair')).flat(),
      ];
      const whole = values.map(
        (value) => BigInt(Math.trunc(value)) * 2n ** 60n + BigInt((value - Math.trunc(value)) * 2 ** 60),
      );
      const n = BigInt(whole.length);
      const sum = whole.reduce((total, value) => total + value, 0n);
      const squares = whole.reduce((total, value) => total + (n * value - sum) ** 2n, 0n);
      const exact = Math.sqrt(Number(squares / (n * n * (n - 1n)))) / 2 ** 60;
      expect(Math.abs((sampleStatistics(values).standardDeviation ?? 0) / exact - 1)).toBeLessThan(1e-12);
    },
  );

  it.each(readReferenceTable('rmse-interval').map((row) => [row.case, row] as const))(
    'gives the interval of the true RMSE for %s',
    (_, row) => {
      const { rmse, rmseLow95, rmseHigh95 } = sampleStatistics(
        Array.from({ length: row.number('count') }, (__, i) => (i % 2 === 0 ? 1 : -1)),
      );
      expect(Math.abs(rmseLow95 / rmse - row.number('low'))).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(rmseHigh95 / rmse - row.number('high'))).toBeLessThanOrEqual(row.tolerance);
    },
  );

  it('joins bias and deviation to the RMSE, and calls a bias only what its t-test does', () => {
    const { mean, standardDeviation, rmse, count, t, isBiased } = sampleStatistics([0.011, 0.013, 0.009, 0.012, 0.01]);
    expect(rmse ** 2).toBeCloseTo(mean ** 2 + ((standardDeviation ?? 0) ** 2 * (count - 1)) / count, 15);
    expect(t).toBeCloseTo((0.011 * Math.sqrt(5)) / Math.sqrt(0.0000025), 9);
    expect(isBiased).toBe(true);
    expect(sampleStatistics([0.02, -0.01, 0.005, -0.012]).isBiased).toBe(false);
  });

  it('says nothing of scatter or bias from one value, or from values without scatter', () => {
    expect(sampleStatistics([0.03])).toMatchObject({
      standardDeviation: null,
      t: null,
      tLimit95: null,
      isBiased: false,
    });
    expect(sampleStatistics([2, 2, 2])).toMatchObject({ t: null, isBiased: false });
  });

  it('covers the true RMSE in 95 % of 2,000 samples, within three standard errors', () => {
    const random = seededRandom(11);
    let inside = 0;
    for (let run = 0; run < 2000; run += 1) {
      const { rmseLow95, rmseHigh95 } = sampleStatistics(Array.from({ length: 7 }, () => random.normal()));
      if (rmseLow95 <= 1 && rmseHigh95 >= 1) inside += 1;
    }
    expect(Math.abs(inside / 2000 - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / 2000));
  });
});

describe('leastSquaresLine', () => {
  it('gives back constant and slopes of exact data, whatever the size of the predictors', () => {
    const x = [0, 1, 2, 5, 9, 11];
    const y = [3, -1, 4, 0, 2, -2];
    const fit = leastSquaresLine(
      x.map((value, i) => 0.5 + 2 * value - 3 * (y[i] ?? 0)),
      [x.map((value) => value + 1e6), y],
    );
    expect(fit?.terms[1]?.estimate).toBeCloseTo(2, 9);
    expect(fit?.terms[2]?.estimate).toBeCloseTo(-3, 9);
    expect((fit?.terms[0]?.estimate ?? 0) + 2e6).toBeCloseTo(0.5, 3);
    expect(fit?.residualDeviation).toBeLessThan(1e-8);
  });

  it('is null where the values are too few or the predictors do not vary apart', () => {
    expect(leastSquaresLine([1, 2], [[0, 1]])).toBeNull();
    expect(leastSquaresLine([1, 2, 3, 5], [[1, 1, 1, 1]])).toBeNull();
    expect(
      leastSquaresLine(
        [1, 2, 3, 5, 4],
        [
          [0, 1, 2, 3, 4],
          [0, 2, 4, 6, 8],
        ],
      ),
    ).toBeNull();
  });

  it('calls a slope significant in 5 % of 2,000 flat samples, within three standard errors', () => {
    const random = seededRandom(12);
    let alarms = 0;
    for (let run = 0; run < 2000; run += 1) {
      const x = Array.from({ length: 9 }, () => random.between(0, 50));
      if (
        leastSquaresLine(
          x.map(() => random.normal()),
          [x],
        )?.terms[1]?.isSignificant === true
      )
        alarms += 1;
    }
    expect(Math.abs(alarms / 2000 - 0.05)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / 2000));
  });
});

describe('nssda', () => {
  it.each(readReferenceTable('nssda').map((row) => [row.case, row] as const))(
    'agrees with the standard for %s',
    (_, row) => {
      const x = row.number('rmse_x_m');
      const statement =
        row.text('quantity') === 'vertical'
          ? nssdaVertical(x, row.number('points'))
          : nssdaHorizontal(x, row.number('rmse_y_m'), row.number('points'));
      expect(Math.abs((statement.accuracy95M ?? 0) - row.number('expected_m'))).toBeLessThanOrEqual(row.tolerance);
    },
  );

  it('states nothing from fewer than 20 points, and says how many are missing', () => {
    expect(nssdaHorizontal(0.02, 0.02, 19)).toEqual({ accuracy95M: null, reason: 'too-few-points', pointsNeeded: 1 });
    expect(nssdaVertical(0.02, 3)).toEqual({ accuracy95M: null, reason: 'too-few-points', pointsNeeded: 17 });
  });

  it('states nothing for axes that differ by more than the standard has a formula for, and the bound itself passes', () => {
    expect(nssdaHorizontal(0.02, 0.0119, 20)).toMatchObject({ accuracy95M: null, reason: 'unequal-axes' });
    expect(nssdaHorizontal(1, 0.6, 20).accuracy95M).toBeCloseTo(2.4477 * 0.8, 12);
  });
});
