import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  correlatedQuadraticForm,
  varianceFactor,
  varianceInflation,
} from '../../../../src/core/observation/averaging/correlated-mean.js';
import { expectedScatter } from '../../../../src/core/observation/averaging/expected-scatter.js';
import { fastNoise } from '../../../../src/core/observation/averaging/fast-noise.js';
import { robustAverage } from '../../../../src/core/observation/averaging/robust-average.js';
import { screenLimitM } from '../../../../src/core/observation/averaging/screen-limit.js';
import { theilSen } from '../../../../src/core/observation/averaging/theil-sen.js';
import { createPrecisionModel } from '../../../../src/core/planning/precision-model.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

const SIX_MILLIMETRES = { horizontal: { withinM: 0.006, mostM: 0.012 }, vertical: { withinM: 0.006, mostM: 0.012 } };

function valueOf(row: ReferenceRow): number {
  const count = row.numberOrNull('count') ?? NaN;
  const values = row.numbers('values');
  switch (row.text('quantity')) {
    case 'sigma-of-mean':
      return Math.sqrt(varianceInflation(count, row.number('step_s'), row.number('correlation_s')) / count);
    case 'separation-factor':
      // Two occupations are two values that far apart, which is how a plan of occupations reckons them.
      return Math.sqrt(varianceInflation(2, row.number('separation_s'), row.number('correlation_s')) / 2);
    case 'huber-mean':
      return robustAverage(values, values, values, SIX_MILLIMETRES).eastM;
    case 'screen-limit': {
      const [madM = NaN, withinM = NaN, mostM = NaN] = values;
      return screenLimitM(count, madM, { withinM, mostM });
    }
    case 'scatter-within': {
      const [constantM = NaN, totalM = NaN] = values;
      const axis = { totalM, constantM, ionosphereM: 0, troposphereM: 0, orbitM: 0, proportionalM: 0 };
      const prediction = {
        horizontal: axis,
        vertical: axis,
        correlationHorizontalS: row.number('correlation_s'),
        correlationVerticalS: row.number('correlation_s'),
      };
      return expectedScatter({
        prediction,
        spanS: row.number('step_s'),
        pole: null,
        reportedHorizontalM: null,
        reportedVerticalM: null,
      }).vertical.withinM;
    }
    case 'theil-sen':
      return theilSen([1, 2, 3, 4, 10, 12, 18], values);
    case 'fast-noise':
      return fastNoise(values, null) ?? NaN;
    case 'constant-ppm-mean': {
      const [constantMm = NaN, ppm = NaN, baselineM = NaN] = values;
      const { horizontal } = createPrecisionModel({
        conditions: 'normal',
        horizontal: { constantM: constantMm / 1000, ppm },
        vertical: null,
        combine: 'rss',
        correlationHorizontalS: null,
        correlationVerticalS: null,
      }).at(baselineM, 0);
      // Independent measurements: no correlation between them.
      return horizontal.totalM * 1000 * Math.sqrt(varianceFactor([0, 60, 120, 180], null, 0));
    }
    default:
      throw new Error(row.text('quantity'));
  }
}

describe('averaging', () => {
  for (const row of readReferenceTable('averaging')) {
    it(`agrees with the table: ${row.case}`, () => {
      expect(Math.abs(valueOf(row) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }
});

describe('correlatedQuadraticForm', () => {
  it('is the double sum, for uneven times, repeated times and weights of either sign', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0, max: 100, noNaN: true }), fc.double({ min: -2, max: 2, noNaN: true })), {
          minLength: 1,
          maxLength: 25,
        }),
        fc.double({ min: 0.1, max: 5000, noNaN: true }),
        (epochs, tauS) => {
          const times = epochs
            .map(([step]) => (step < 10 ? 0 : step))
            .reduce<number[]>((t, step) => [...t, (t.at(-1) ?? 0) + step], []);
          const weights = epochs.map(([, weight]) => weight);
          let sum = 0;
          times.forEach((a, i) =>
            times.forEach((b, j) => {
              sum += (weights[i] ?? 0) * (weights[j] ?? 0) * Math.exp(-Math.abs(a - b) / tauS);
            }),
          );
          expect(Math.abs(correlatedQuadraticForm(times, weights, tauS) - sum)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('refuses times that fall', () => {
    expect(() => correlatedQuadraticForm([0, 2, 1], [1, 1, 1], 10)).toThrow('times of epochs fall');
  });
});

describe('varianceFactor', () => {
  it('is the closed form where epochs are equally spaced', () => {
    for (const [count, stepS, tauS] of [
      [1, 1, 100],
      [7, 1, 115],
      [180, 1, 600],
      [50, 0.1, 2200],
      [5, 3600, 10],
    ] as const) {
      const times = Float64Array.from({ length: count }, (_, i) => i * stepS);
      const closed = varianceInflation(count, stepS, tauS) / count;
      expect(Math.abs(varianceFactor(times, null, tauS) / closed - 1)).toBeLessThan(1e-10);
    }
  });

  it('lies between independence and full correlation, and takes no account of epochs of weight 0', () => {
    expect(varianceFactor([0, 1, 2, 3], null, 0)).toBeCloseTo(0.25, 15);
    expect(varianceFactor([0, 1, 2, 3], null, 1e15)).toBeCloseTo(1, 12);
    expect(varianceFactor([0, 1, 2, 3], [1, 0, 0, 1], 5)).toBeCloseTo(varianceFactor([0, 3], null, 5), 15);
    expect(varianceFactor([5, 5, 5], null, 0)).toBeCloseTo(1, 15);
  });

  it('refuses no epochs, and weights that sum to nothing', () => {
    expect(() => varianceFactor([], null, 10)).toThrow('no epochs');
    expect(() => varianceFactor([0, 1], [0, 0], 10)).toThrow('weights');
  });

  it('is the variance of the mean of a simulated Gauss–Markov process, within 5 %', () => {
    const random = seededRandom(20260304);
    const times = [0, 1, 2, 3, 5, 8, 30, 31, 32, 60];
    const tauS = 20;
    const runs = 20_000;
    let squares = 0;
    for (let run = 0; run < runs; run += 1) {
      let x = random.normal();
      let sum = x;
      for (let i = 1; i < times.length; i += 1) {
        const rho = Math.exp(-((times[i] ?? 0) - (times[i - 1] ?? 0)) / tauS);
        x = rho * x + Math.sqrt(1 - rho * rho) * random.normal();
        sum += x;
      }
      squares += (sum / times.length) ** 2;
    }
    expect(Math.abs(squares / runs / varianceFactor(times, null, tauS) - 1)).toBeLessThan(0.05);
  });
});

describe('varianceInflation', () => {
  it('has no seam where the series takes over from the closed form', () => {
    for (const count of [2, 10, 1000]) {
      const below = varianceInflation(count, 1, count / 0.99e-4);
      const above = varianceInflation(count, 1, count / 1.01e-4);
      expect(Math.abs(below - above) / count).toBeLessThan(1e-6);
      expect(below).toBeGreaterThan(above);
      expect(below).toBeLessThanOrEqual(count);
    }
  });

  it('says with 60 one-second epochs at 300 s that the mean keeps 97 %', () => {
    expect(Math.sqrt(varianceInflation(60, 1, 300) / 60)).toBeCloseTo(0.968, 3);
  });
});

describe('without correlation', () => {
  it('n epochs are n independent ones', () => {
    expect(varianceInflation(60, 1, 0)).toBe(1);
    expect(varianceFactor([0, 1, 2, 3], null, 0)).toBe(0.25);
    expect(varianceInflation(2, 1e9, 300)).toBe(1);
  });

  it('one epoch is one epoch, and two at one time are no more', () => {
    expect(varianceInflation(2, 0, 300)).toBe(2);
    expect(varianceInflation(1, 1, 300)).toBe(1);
  });
});

describe('theilSen', () => {
  it('takes the median of the pairs whose times differ, and is 0 where none do', () => {
    expect(theilSen([0, 0, 1, 1, 2], [5, 0, 2, 2, 4])).toBe(2);
    expect(theilSen([7, 7, 7], [1, 2, 3])).toBe(0);
    expect(theilSen([], [])).toBe(0);
  });
});

describe('fastNoise', () => {
  it('needs three used epochs, and does not see drift or epochs screened out', () => {
    expect(fastNoise([1, 2], null)).toBeNull();
    expect(fastNoise([1, 9, 2, 3], [0, 1, 1, 0])).toBeNull();
    const random = seededRandom(3);
    const values = Array.from({ length: 4000 }, (_, i) => 0.0001 * i + 0.005 * random.normal());
    expect(fastNoise(values, null)).toBeCloseTo(0.005, 3);
    expect(fastNoise([0, 5, 1, 2], [0, 1, 0, 0])).toBeCloseTo(Math.SQRT1_2, 12);
  });
});
