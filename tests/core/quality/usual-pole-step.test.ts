import { describe, expect, it } from 'vitest';
import { usualPoleStep } from '../../../src/core/quality/usual-pole-step.js';

describe('usualPoleStep', () => {
  it('gives the whole tenth of a metre that the offset agrees with, with its sign', () => {
    expect(usualPoleStep(-0.2148, 0.016, [])).toBeCloseTo(-0.2, 12);
    expect(usualPoleStep(0.31, 0.006, [])).toBeCloseTo(0.3, 12);
  });

  it('prefers a step between lengths that were logged', () => {
    expect(usualPoleStep(0.142, 0.02, [2, 1.85])).toBeCloseTo(0.15, 12);
  });

  it('gives none between steps, for no offset, beyond a metre, or where the sigma cannot tell steps apart', () => {
    expect(usualPoleStep(0.15, 0.01, [2])).toBeNull();
    expect(usualPoleStep(0.01, 0.01, [])).toBeNull();
    expect(usualPoleStep(1.3, 0.01, [])).toBeNull();
    expect(usualPoleStep(0.2, 0.04, [])).toBeNull();
  });

  it('takes the nearest of several steps between logged lengths, and the first of two equally near', () => {
    expect(usualPoleStep(0.142, 0.025, [2, 1.9, 1.86])).toBeCloseTo(0.14, 12);
    expect(usualPoleStep(-0.142, 0.025, [1.86, 1.9, 2])).toBeCloseTo(-0.14, 12);
    expect(usualPoleStep(0.142, 0.025, [2, 1.86, 1.83])).toBeCloseTo(0.14, 12);
  });
});
