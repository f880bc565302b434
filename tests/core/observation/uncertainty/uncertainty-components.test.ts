import { describe, expect, it } from 'vitest';
import { localFrameAt } from '../../../../src/core/ellipsoid/local-frame.js';
import { baseCovariance } from '../../../../src/core/observation/uncertainty/base-covariance.js';
import { varianceFactor, varianceInflation } from '../../../../src/core/observation/averaging/correlated-mean.js';
import {
  ZERO_COVARIANCE,
  covarianceFromSigmas,
  diagonalCovariance,
} from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { occupationUncertainty } from '../../../../src/core/observation/uncertainty/uncertainty-components.js';
import type {
  UncertaintyInput,
  UsedEpochs,
} from '../../../../src/core/observation/uncertainty/uncertainty-components.js';
import { createPrecisionModel } from '../../../../src/core/planning/precision-model.js';

const prediction = createPrecisionModel({
  conditions: 'normal',
  horizontal: null,
  vertical: null,
  combine: 'rss',
  correlationHorizontalS: null,
  correlationVerticalS: null,
}).at(40_000, 300);
const pole = diagonalCovariance(1e-5, 2e-5, 1e-6);
const base = diagonalCovariance(1e-4, 1e-4, 4e-4);
const single: UncertaintyInput = {
  epochs: null,
  epochCount: 1,
  reported: null,
  prediction,
  pole,
  base,
  geoidSigmaM: null,
};

function epochsOf(count: number, change: Partial<UsedEpochs> = {}): UsedEpochs {
  const ones = new Float64Array(count).fill(1);
  return {
    timesS: Float64Array.from({ length: count }, (_, i) => i),
    weightsEast: ones,
    weightsNorth: ones,
    weightsUp: ones,
    noiseEastM: 0.003,
    noiseNorthM: 0.004,
    noiseUpM: 0.008,
    ...change,
  };
}

describe('occupationUncertainty', () => {
  it('of one epoch is the whole model, with pole and base added', () => {
    const u = occupationUncertainty(single);
    expect(u.noise).toEqual(ZERO_COVARIANCE);
    expect(u.correlated.eeM2).toBeCloseTo(36e-6, 15);
    expect(u.correlated.eeM2 + u.baseline.eeM2).toBeCloseTo(prediction.horizontal.totalM ** 2, 15);
    expect(u.total.uuM2).toBeCloseTo(prediction.vertical.totalM ** 2 + 1e-6 + 4e-4, 15);
    expect(u.effectiveEpochs).toBe(1);
    expect(u.geoidVarianceM2).toBeNull();
  });

  it('takes reported sigmas of one epoch, or of a mean, as they are', () => {
    const reported = covarianceFromSigmas(0.01, 0.02, 0.03, 0.5);
    expect(occupationUncertainty({ ...single, reported }).noise).toEqual(reported);
    const mean = occupationUncertainty({ ...single, reported, epochCount: 100 });
    expect(mean.noise).toEqual(reported);
    expect(mean.total.enM2).toBeCloseTo(1e-4, 15);
  });

  it('takes the noise of three epochs or more from their scatter, and reduces only that by their number', () => {
    const u = occupationUncertainty({ ...single, epochs: epochsOf(60), reported: covarianceFromSigmas(9, 9, 9, 0) });
    expect(u.noise.eeM2).toBeCloseTo(9e-6 / 60, 15);
    expect(u.noise.uuM2).toBeCloseTo(64e-6 / 60, 15);
    const factor = varianceInflation(60, 1, 600) / 60;
    expect(Math.sqrt(factor)).toBeGreaterThan(0.98);
    expect(u.correlated.eeM2).toBeCloseTo(36e-6 * factor, 13);
    expect(u.effectiveEpochs).toBeCloseTo(1 / factor, 9);
    expect(u.pole).toBe(pole);
    expect(u.base).toBe(base);
  });

  it('is never better for 60 epochs than the slow errors leave it', () => {
    const u = occupationUncertainty({ ...single, epochs: epochsOf(60), pole: ZERO_COVARIANCE, base: ZERO_COVARIANCE });
    const plain = prediction.horizontal.totalM / Math.sqrt(60);
    expect(Math.sqrt(u.total.eeM2)).toBeGreaterThan(7 * plain);
  });

  it('falls back on reported sigmas over two epochs', () => {
    const reported = covarianceFromSigmas(0.01, 0.01, 0.02, 0.5);
    const two = epochsOf(2, { noiseEastM: null, noiseNorthM: null, noiseUpM: null });
    const u = occupationUncertainty({ ...single, epochs: two, reported });
    expect(u.noise.eeM2).toBeCloseTo(0.5e-4, 15);
    expect(u.noise.enM2).toBeCloseTo(0.25e-4, 15);
    expect(occupationUncertainty({ ...single, epochs: two }).noise).toEqual(ZERO_COVARIANCE);
  });

  it('leaves screened epochs out of every part', () => {
    const weights = Float64Array.from([1, 1, 0, 1]);
    const four = epochsOf(4, { weightsEast: weights, weightsNorth: weights, weightsUp: weights });
    const u = occupationUncertainty({ ...single, epochs: four });
    expect(u.noise.eeM2).toBeCloseTo(9e-6 / 3, 15);
    expect(u.correlated.uuM2).toBeCloseTo(144e-6 * varianceFactor([0, 1, 3], null, 2200), 15);
  });

  it('reckons a mean of n as n epochs of one second', () => {
    const mean = occupationUncertainty({ ...single, epochCount: 180 });
    const epochs = occupationUncertainty({ ...single, epochs: epochsOf(180) });
    expect(mean.correlated.eeM2 / epochs.correlated.eeM2).toBeCloseTo(1, 9);
    expect(mean.baseline.uuM2 / epochs.baseline.uuM2).toBeCloseTo(1, 9);
  });

  it('keeps the geoid apart', () => {
    expect(occupationUncertainty({ ...single, geoidSigmaM: 0.05 })).toMatchObject({ geoidVarianceM2: 0.05 * 0.05 });
  });
});

describe('baseCovariance', () => {
  it('turns with the frame and keeps its trace', () => {
    const c = baseCovariance(0.01, 0.02, localFrameAt(60, 0), localFrameAt(60, 2));
    expect(c.eeM2 + c.nnM2 + c.uuM2).toBeCloseTo(6e-4, 15);
    // Up at the base leans west at a rover to the east, by the longitude difference over cos φ.
    expect(c.euM2).toBeCloseTo(-3e-4 * Math.sin((2 * Math.PI) / 180) * 0.5, 6);
  });

  it('adds nothing where no sigma is stated, and reads one missing sigma as nothing', () => {
    expect(baseCovariance(null, null, localFrameAt(1, 1), localFrameAt(1, 1))).toBe(ZERO_COVARIANCE);
    expect(baseCovariance(0.01, null, localFrameAt(1, 1), localFrameAt(1, 1)).uuM2).toBeCloseTo(0, 18);
  });
});
