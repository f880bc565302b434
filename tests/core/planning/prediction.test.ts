import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { baseCovariance } from '../../../src/core/observation/uncertainty/base-covariance.js';
import { ZERO_COVARIANCE } from '../../../src/core/observation/uncertainty/local-covariance.js';
import { poleCovariance } from '../../../src/core/observation/uncertainty/pole-covariance.js';
import { positionalUncertainty } from '../../../src/core/observation/uncertainty/positional-uncertainty.js';
import { occupationUncertainty } from '../../../src/core/observation/uncertainty/uncertainty-components.js';
import { createPrecisionModel } from '../../../src/core/planning/precision-model.js';
import { createPredictor } from '../../../src/core/planning/prediction.js';
import type {
  ConditionPrediction,
  PointPrediction,
  PointWithTolerance,
  PredictionSettings,
} from '../../../src/core/planning/prediction.js';
import { remedy } from '../../../src/core/planning/remedy.js';
import { termShares } from '../../../src/core/planning/term-shares.js';
import type { PlanPoint } from '../../../src/core/planning/plan-point.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const geodesic = createGeodesic(WGS84);
const BASE: PlanPoint = { id: 'B1', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 };

/** Pole sigmas that give 4 mm per horizontal axis and 2 mm up with a pole of 2 m. */
const SETTINGS: PredictionSettings = {
  precision: {
    conditions: 'normal',
    horizontal: null,
    vertical: null,
    combine: 'rss',
    correlationHorizontalS: null,
    correlationVerticalS: null,
  },
  pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
  poleSigmas: { poleSigmaM: 0.002, plumbSigmaDeg: (0.002 * 180) / Math.PI, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 },
  baseSigmaHorizontalM: null,
  baseSigmaVerticalM: null,
  geoidSigmaM: null,
  epochCount: 1,
};

function pointAt(azimuthDeg: number, distanceM: number, more: Partial<PointWithTolerance> = {}): PointWithTolerance {
  const { latitudeDeg, longitudeDeg } = geodesic.direct(BASE.latitudeDeg, BASE.longitudeDeg, azimuthDeg, distanceM);
  return {
    id: 'P',
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: 1043.2,
    toleranceHorizontalM: null,
    toleranceVerticalM: null,
    ...more,
  };
}

function predict(point: PointWithTolerance, change: Partial<PredictionSettings> = {}): PointPrediction {
  return createPredictor(geodesic, BASE, { ...SETTINGS, ...change }).at(point);
}

function under(prediction: PointPrediction, conditions: string): ConditionPrediction {
  const found = prediction.byConditions.find((entry) => entry.conditions === conditions);
  if (found === undefined) throw new Error(`no ${conditions}`);
  return found;
}

describe('createPredictor', () => {
  // The planning table of docs/methods/uncertainty.md: H = 2.4477 σ, V = 1.9600 σ, computed outside (COMPUTED).
  const table = readReferenceTable('precision-model').filter(
    (row) => row.note === 'pole 4 mm added' || row.note === 'pole 2 mm added',
  );
  it('has the whole planning table to be held against: three conditions, five baselines, two axes', () => {
    expect(table.length).toBeGreaterThanOrEqual(30);
  });
  for (const row of table) {
    it(`predicts the 95 % figures of the planning table: ${row.case}`, () => {
      const { uncertainty } = under(predict(pointAt(77, row.number('baseline_m'))), row.text('conditions'));
      const found = row.text('quantity') === 'horizontal-95' ? uncertainty.circle95M : uncertainty.vertical95M;
      // The circle factor is an approximation good to 1e-6 of itself.
      expect(Math.abs(found * 1000 - row.number('expected'))).toBeLessThan(
        row.tolerance + 1e-6 * row.number('expected'),
      );
    });
  }

  for (const row of readReferenceTable('predictions')) {
    it(`adds an uncertain base: ${row.case}`, () => {
      const change = {
        baseSigmaHorizontalM: row.number('base_horizontal_mm') / 1000,
        baseSigmaVerticalM: row.number('base_vertical_mm') / 1000,
      };
      const { uncertainty } = under(predict(pointAt(310, row.number('baseline_m')), change), row.text('conditions'));
      const found = row.text('quantity') === 'horizontal-95' ? uncertainty.circle95M : uncertainty.vertical95M;
      // Turned by the angle d/R, the base's larger height variance leaks into the horizontal: below 5e-5 of the figure.
      expect(Math.abs((found * 1000) / row.number('expected') - 1)).toBeLessThan(5e-5);
    });
  }

  it('has the covariance that an occupation of the same point is given: one error model, not two', () => {
    for (const epochCount of [1, 60]) {
      for (const ppm of [null, { constantM: 0.008, ppm: 1 }, { constantM: 0.01, ppm: 2 }]) {
        const precision = { ...SETTINGS.precision, horizontal: ppm, vertical: ppm };
        const settings = {
          ...SETTINGS,
          precision,
          epochCount,
          baseSigmaHorizontalM: 0.01,
          baseSigmaVerticalM: 0.02,
          geoidSigmaM: 0.03,
        };
        const point = pointAt(40, 38_000, { ellipsoidalHeightM: 1500 });
        const made = under(predict(point, settings), 'normal');
        const measured = occupationUncertainty({
          epochs: null,
          epochCount,
          reported: null,
          prediction: createPrecisionModel(precision).at(38_000, 1500 - 1043.2),
          pole: poleCovariance(settings.pole, settings.poleSigmas),
          base: baseCovariance(
            0.01,
            0.02,
            localFrameAt(BASE.latitudeDeg, BASE.longitudeDeg),
            localFrameAt(point.latitudeDeg, point.longitudeDeg),
          ),
          geoidSigmaM: 0.03,
        });
        for (const key of ['eeM2', 'enM2', 'euM2', 'nnM2', 'nuM2', 'uuM2'] as const)
          expect(made.components.total[key]).toBeCloseTo(measured.total[key], 12);
        expect(made.uncertainty.vertical95M).toBeCloseTo(
          positionalUncertainty(measured.total, measured.geoidVarianceM2).vertical95M,
          9,
        );
      }
    }
  });

  it('shares the variance out among all terms, adding up to the whole', () => {
    for (const combine of ['rss', 'linear'] as const) {
      for (const given of [null, { constantM: 0.008, ppm: 1 }]) {
        const settings = {
          precision: { ...SETTINGS.precision, horizontal: given, vertical: given, combine },
          baseSigmaHorizontalM: 0.01,
          baseSigmaVerticalM: 0.02,
          geoidSigmaM: 0.02,
          epochCount: 30,
        };
        for (const entry of predict(pointAt(10, 45_000), settings).byConditions) {
          for (const shares of [entry.shares.horizontal, entry.shares.vertical]) {
            const values = Object.values(shares) as number[];
            for (const value of values) expect(value).toBeGreaterThanOrEqual(0);
            expect(values.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 12);
          }
          expect(entry.shares.horizontal.geoid).toBe(0);
          expect(entry.shares.vertical.geoid).toBeGreaterThan(0);
        }
      }
    }
    const lone = under(
      predict(pointAt(10, 45_000), {
        poleSigmas: { poleSigmaM: 0, plumbSigmaDeg: 0, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 },
      }),
      'normal',
    ).shares.horizontal;
    // 6 mm constant against 0.4, 0.1 and 0.03 ppm of 45 km.
    const total = 36 + 18 ** 2 + 4.5 ** 2 + 1.35 ** 2;
    expect(lone.constant).toBeCloseTo(36 / total, 9);
    expect(lone.ionosphere).toBeCloseTo(18 ** 2 / total, 9);
    expect(lone.troposphere).toBeCloseTo(4.5 ** 2 / total, 9);
    expect(lone.orbit).toBeCloseTo(1.35 ** 2 / total, 9);
  });

  it('judges each axis against its own tolerance, the limit itself being within', () => {
    const free = under(predict(pointAt(0, 20_000)), 'normal').uncertainty;
    const judged = under(
      predict(
        pointAt(0, 20_000, { toleranceHorizontalM: free.circle95M, toleranceVerticalM: free.vertical95M * 0.999 }),
      ),
      'normal',
    );
    expect([judged.horizontal, judged.vertical]).toEqual(['within', 'outside']);
    expect(under(predict(pointAt(0, 20_000)), 'normal').horizontal).toBe('not-asked');
  });

  it('leaves the height term out where a height is missing, and says so by null', () => {
    const without = predict(pointAt(0, 20_000, { ellipsoidalHeightM: null }));
    const level = predict(pointAt(0, 20_000));
    const steep = predict(pointAt(0, 20_000, { ellipsoidalHeightM: 2043.2 }));
    expect(without.heightDifferenceM).toBeNull();
    expect(steep.heightDifferenceM).toBeCloseTo(1000, 9);
    expect(under(without, 'normal').uncertainty).toEqual(under(level, 'normal').uncertainty);
    expect(under(steep, 'normal').uncertainty.vertical95M).toBeGreaterThan(
      under(level, 'normal').uncertainty.vertical95M,
    );
  });

  it('gets no better from quiet to active and no better with distance', () => {
    let before = 0;
    for (const distanceM of [0, 1, 1000, 10_000, 30_000, 60_000, 120_000]) {
      const values = predict(pointAt(123, distanceM)).byConditions.map(({ uncertainty }) => uncertainty.circle95M);
      expect(values).toEqual([...values].sort((a, b) => a - b));
      expect(values[1]).toBeGreaterThanOrEqual(before);
      before = values[1] ?? 0;
    }
    expect(predict(pointAt(0, 0)).azimuthDeg).toBeNull();
  });

  // KARNEY-2013 by another implementation: GeodSolve of GeographicLib.
  it.skipIf(!hasProgram('GeodSolve'))(
    'gives distance and azimuth as GeodSolve does, to 1e-6 m (skipped where GeodSolve is absent)',
    () => {
      const points = Array.from({ length: 100 }, (_, i) => pointAt(i * 3.6, 500 + i * 900));
      const input = points
        .map(
          (p) =>
            `${String(BASE.latitudeDeg)} ${String(BASE.longitudeDeg)} ${String(p.latitudeDeg)} ${String(p.longitudeDeg)}`,
        )
        .join('\n');
      runProgram('GeodSolve', ['-i', '-p', '9'], `${input}\n`).forEach((line, i) => {
        const [azimuthDeg, , distanceM] = numbersOf(line);
        const made = predict(points[i] ?? pointAt(0, 0));
        expect(Math.abs(made.baselineM - (distanceM ?? 0))).toBeLessThan(1e-6);
        expect(Math.abs((((made.azimuthDeg ?? 0) - (azimuthDeg ?? 0) + 540) % 360) - 180)).toBeLessThan(1e-9);
      });
    },
  );
});

describe('remedy', () => {
  const limits = { separationS: null, minEpochs: 5, maxEpochs: 300, maxOccupations: 6 };

  it('names the range at which the same settings meet the tolerance exactly', () => {
    for (const epochCount of [1, 120]) {
      const settings = { ...SETTINGS, epochCount, baseSigmaHorizontalM: 0.005, baseSigmaVerticalM: 0.01 };
      const point = pointAt(70, 60_000, { toleranceHorizontalM: 0.04, toleranceVerticalM: 0.07 });
      const prediction = predict(point, settings);
      const entry = under(prediction, 'normal');
      expect(entry.horizontal).toBe('outside');
      const found = remedy(point, prediction, entry, settings, limits);
      const rangeM = found.rangeHorizontal?.rangeM ?? Number.NaN;
      const verticalM = found.rangeVertical?.rangeM ?? Number.NaN;
      expect(under(predict(pointAt(70, rangeM, { id: 'H' }), settings), 'normal').uncertainty.circle95M).toBeCloseTo(
        0.04,
        6,
      );
      expect(
        under(predict(pointAt(70, verticalM, { id: 'V' }), settings), 'normal').uncertainty.vertical95M,
      ).toBeCloseTo(0.07, 6);
    }
  });

  it('offers separated occupations, the wait depending on the baseline', () => {
    const point = pointAt(70, 45_000, { toleranceHorizontalM: 0.05, toleranceVerticalM: 0.085 });
    const prediction = predict(point);
    const { occupations, rangeHorizontal } = remedy(point, prediction, under(prediction, 'normal'), SETTINGS, limits);
    expect(occupations.status).toBe('reached');
    expect(occupations.chosen.occupations).toBeGreaterThan(1);
    expect(occupations.earliestSecondStartS).toBe(occupations.chosen.epochs - 1 + 7200);
    expect(rangeHorizontal?.status).toBe('found');
  });

  it('says when the tolerance is below what no distance changes', () => {
    const point = pointAt(70, 5000, { toleranceHorizontalM: 0.01 });
    const prediction = predict(point);
    const found = remedy(point, prediction, under(prediction, 'quiet'), SETTINGS, limits);
    expect(found.rangeHorizontal?.status).toBe('tolerance-below-constant');
    expect(found.rangeVertical).toBeNull();
  });

  it('names no range on an axis of which nothing is asked', () => {
    const settings = SETTINGS;
    for (const [toleranceHorizontalM, toleranceVerticalM] of [
      [null, 0.05],
      [0.05, null],
    ] as const) {
      const point = pointAt(77, 20_000, { toleranceHorizontalM, toleranceVerticalM });
      const prediction = predict(point);
      const found = remedy(point, prediction, under(prediction, 'normal'), settings, limits);
      expect(found.rangeHorizontal === null).toBe(toleranceHorizontalM === null);
      expect(found.rangeVertical === null).toBe(toleranceVerticalM === null);
    }
  });
});

describe('termShares', () => {
  it('are all 0 where nothing is uncertain', () => {
    const point = pointAt(77, 20_000);
    const { predicted, components } = under(predict(point), 'normal');
    const nothing = {
      ...components,
      noise: ZERO_COVARIANCE,
      correlated: ZERO_COVARIANCE,
      baseline: ZERO_COVARIANCE,
      pole: ZERO_COVARIANCE,
      base: ZERO_COVARIANCE,
      geoidVarianceM2: null,
    };
    const { horizontal, vertical } = termShares(predicted, nothing);
    for (const share of [...Object.values(horizontal), ...Object.values(vertical)]) expect(share).toBe(0);
  });
});
