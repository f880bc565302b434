import { describe, expect, it } from 'vitest';
import { diagonalCovariance } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { occupationPlan } from '../../../../src/core/planning/time/occupation-plan.js';
import type { OccupationPlanInput } from '../../../../src/core/planning/time/occupation-plan.js';
import type { PredictedAxis } from '../../../../src/core/planning/precision-model.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

function axis(sigmaM: number): PredictedAxis {
  // Two thirds of the variance constant, one third growing with distance: the plan must take both.
  const constantM = sigmaM * Math.sqrt(2 / 3);
  return {
    totalM: sigmaM,
    constantM,
    ionosphereM: sigmaM * Math.sqrt(1 / 3),
    troposphereM: 0,
    orbitM: 0,
    proportionalM: 0,
  };
}

const PLAIN: OccupationPlanInput = {
  prediction: {
    horizontal: axis(0.012),
    vertical: axis(0.02),
    correlationHorizontalS: 600,
    correlationVerticalS: 2200,
  },
  noiseHorizontalM: 0,
  noiseVerticalM: 0,
  pole: diagonalCovariance(0, 0, 0),
  base: diagonalCovariance(0, 0, 0),
  geoidSigmaM: null,
  toleranceHorizontalM: null,
  toleranceVerticalM: null,
  separationS: 7200,
  minEpochs: 1,
  maxEpochs: 180,
  maxOccupations: 6,
};

describe('occupationPlan', () => {
  for (const row of readReferenceTable('occupation-plan')) {
    it(`finds the fewest occupations and epochs: ${row.case}`, () => {
      const mm = (column: string): number => row.number(column) / 1000;
      const squared = (value: number): number => value * value;
      const plan = occupationPlan({
        prediction: {
          horizontal: axis(mm('slow_horizontal_mm')),
          vertical: axis(mm('slow_vertical_mm')),
          correlationHorizontalS: row.number('correlation_horizontal_s'),
          correlationVerticalS: row.number('correlation_vertical_s'),
        },
        noiseHorizontalM: mm('noise_mm'),
        noiseVerticalM: 2 * mm('noise_mm'),
        pole: diagonalCovariance(squared(mm('pole_mm')), squared(mm('pole_mm')), squared(mm('pole_mm') / 2)),
        base: diagonalCovariance(squared(mm('base_mm')), squared(mm('base_mm')), squared(2 * mm('base_mm'))),
        geoidSigmaM: null,
        toleranceHorizontalM: mm('tolerance_horizontal_mm'),
        toleranceVerticalM: mm('tolerance_vertical_mm'),
        separationS: row.number('separation_s'),
        minEpochs: 1,
        maxEpochs: row.number('max_epochs'),
        maxOccupations: row.number('max_occupations'),
      });
      expect(plan.status).toBe(row.text('status'));
      expect(plan.chosen.occupations).toBe(row.number('occupations'));
      expect(plan.chosen.epochs).toBe(row.number('epochs'));
      // The circle factor is an approximation good to 1e-6 of itself.
      expect(Math.abs(plan.chosen.uncertainty.circle95M * 1000 - row.number('circle_95_mm'))).toBeLessThan(
        row.tolerance + 1e-6 * row.number('circle_95_mm'),
      );
      expect(Math.abs(plan.chosen.uncertainty.vertical95M * 1000 - row.number('vertical_95_mm'))).toBeLessThan(
        row.tolerance,
      );
    });
  }

  it('lets two occupations share (1 + exp(-D/tau))/2 of the variance of one', () => {
    const sharedSigma = (tauS: number): number => Math.sqrt((1 + Math.exp(-7200 / tauS)) / 2);
    const plan = occupationPlan({ ...PLAIN, maxEpochs: 1 });
    const [one, two] = plan.options();
    expect((two?.uncertainty.vertical95M ?? 0) / (one?.uncertainty.vertical95M ?? 1)).toBeCloseTo(
      sharedSigma(2200),
      12,
    );
    expect((two?.uncertainty.circle95M ?? 0) / (one?.uncertainty.circle95M ?? 1)).toBeCloseTo(sharedSigma(600), 12);
  });

  it('asks for nothing more than the fewest epochs where no tolerance is given', () => {
    const plan = occupationPlan({ ...PLAIN, minEpochs: 5 });
    expect([plan.status, plan.chosen.occupations, plan.chosen.epochs, plan.earliestSecondStartS]).toEqual([
      'reached',
      1,
      5,
      null,
    ]);
  });

  it('lets the second occupation start the separation after the end of the first', () => {
    const plan = occupationPlan({ ...PLAIN, toleranceVerticalM: 0.03, minEpochs: 60 });
    expect(plan.chosen.occupations).toBeGreaterThan(1);
    expect(plan.earliestSecondStartS).toBe(plan.chosen.epochs - 1 + 7200);
  });

  it('names what stands in the way when no plan reaches the tolerance', () => {
    const limitOf = (change: Partial<OccupationPlanInput>): string | null =>
      occupationPlan({ ...PLAIN, ...change }).limit;
    expect(limitOf({ base: diagonalCovariance(4e-4, 4e-4, 1e-4), toleranceHorizontalM: 0.04 })).toBe('base');
    expect(limitOf({ geoidSigmaM: 0.05, toleranceVerticalM: 0.05 })).toBe('geoid');
    expect(limitOf({ toleranceVerticalM: 0.004 })).toBe('slow-error');
    expect(limitOf({ pole: diagonalCovariance(0.01, 0.01, 1e-6), toleranceHorizontalM: 0.05 })).toBe('pole');
    expect(limitOf({ noiseHorizontalM: 3, toleranceHorizontalM: 0.02 })).toBe('noise');
    expect(limitOf({ toleranceVerticalM: 1 })).toBeNull();
  });

  it('never promises less from more epochs or more occupations', () => {
    for (let m = 1; m < 6; m += 1) {
      const now = occupationPlan({ ...PLAIN, maxOccupations: 6, toleranceVerticalM: 1e-4, maxEpochs: 60 }).options();
      const longer = occupationPlan({
        ...PLAIN,
        maxOccupations: 6,
        toleranceVerticalM: 1e-4,
        maxEpochs: 120,
      }).options();
      expect(now[m]?.uncertainty.vertical95M).toBeLessThan(now[m - 1]?.uncertainty.vertical95M ?? 0);
      expect(longer[m]?.uncertainty.vertical95M).toBeLessThan(now[m]?.uncertainty.vertical95M ?? 0);
    }
  });

  it('asks for one occupation where more would not be better: the base alone is too uncertain', () => {
    const plan = occupationPlan({
      ...PLAIN,
      prediction: { ...PLAIN.prediction, horizontal: axis(0), vertical: axis(0) },
      base: diagonalCovariance(0.0025, 0.0025, 0.0025),
      toleranceHorizontalM: 0.01,
    });
    expect(plan).toMatchObject({ status: 'not-reached', limit: 'base', earliestSecondStartS: null });
    expect(plan.chosen.occupations).toBe(1);
    expect(plan.options()).toHaveLength(6);
  });
});
