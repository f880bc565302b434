import { describe, expect, it } from 'vitest';
import { localFrameAt } from '../../../../src/core/ellipsoid/local-frame.js';
import { baseCovariance } from '../../../../src/core/observation/uncertainty/base-covariance.js';
import { ZERO_COVARIANCE } from '../../../../src/core/observation/uncertainty/local-covariance.js';

const atBase = localFrameAt(-31.5, 21.4);

describe('baseCovariance', () => {
  it('adds nothing where no sigma is stated', () => {
    expect(baseCovariance(null, null, atBase, atBase)).toEqual(ZERO_COVARIANCE);
  });

  it('holds what is stated of one axis where the other is not', () => {
    const height = baseCovariance(null, 0.02, atBase, atBase);
    expect(height.uuM2).toBeCloseTo(0.0004, 15);
    expect(height.eeM2).toBeCloseTo(0, 15);
    const plan = baseCovariance(0.01, null, atBase, atBase);
    expect(plan.eeM2).toBeCloseTo(0.0001, 15);
    expect(plan.nnM2).toBeCloseTo(0.0001, 15);
    expect(plan.uuM2).toBeCloseTo(0, 15);
  });

  it('turns with the frame: a quarter of the Earth away the height of the base lies along the horizon', () => {
    const turned = baseCovariance(0, 0.02, localFrameAt(0, 0), localFrameAt(0, 90));
    expect(turned.eeM2).toBeCloseTo(0.0004, 15);
    expect(turned.uuM2).toBeCloseTo(0, 15);
  });
});
