import { describe, expect, it } from 'vitest';
import { factorSpread, groundSpreadProblem } from '../../../src/core/grid/ground-factor-spread.js';
import { createGroundScale } from '../../../src/core/grid/ground-scale.js';
import { valueOf } from '../../support/shift-of-row.js';

describe('grid to ground', () => {
  const scale = valueOf(createGroundScale(500000, 4500000, 0.9996));

  it('leaves the point itself where it is, and stretches what is around it by 1 / CF', () => {
    const out = { first: 0, second: 0 };
    scale.forward(500000, 4500000, out);
    expect(out).toEqual({ first: 500000, second: 4500000 });
    scale.forward(501000, 4500000, out);
    expect(out.first - 500000).toBeCloseTo(1000 / 0.9996, 9);
  });

  it('comes back after a hundred round trips to less than a micrometre', () => {
    const out = { first: 512345.678, second: 4523456.789 };
    for (let i = 0; i < 100; i += 1) {
      scale.forward(out.first, out.second, out);
      scale.inverse(out.first, out.second, out);
    }
    expect(Math.abs(out.first - 512345.678)).toBeLessThan(1e-6);
    expect(Math.abs(out.second - 4523456.789)).toBeLessThan(1e-6);
  });

  it('gives the ground distance of the published arithmetic: 2385.864 m at sea level is 2386.987 m at 3 km', () => {
    // TW-EXAM-104070, question 4: R 6371 km; the height factor alone.
    const out = { first: 0, second: 0 };
    valueOf(createGroundScale(0, 0, 6371 / 6374)).forward(2385.8635, 0, out);
    expect(Math.abs(out.first - 2386.987)).toBeLessThanOrEqual(0.0005);
  });

  it('refuses a factor that cannot be one', () => {
    for (const factor of [0, 2, -1, NaN, 400]) expect(createGroundScale(0, 0, factor).problems[0]?.code).toBe('config-invalid-value');
    expect(createGroundScale(Infinity, 0, 1).problems[0]?.code).toBe('config-invalid-value');
  });
});

describe('the spread of the factor', () => {
  it('is stated in ppm and in millimetres over the extent of the job', () => {
    const spread = factorSpread([0.99960, 0.99963, 0.99961], 0.99961, 5000);
    expect(spread?.spreadPpm).toBeCloseTo(30.0117, 3);
    expect(spread?.worstPpm).toBeCloseTo(20.0078, 3);
    expect(spread?.spreadMm).toBeCloseTo(150.0585, 3);
    expect(spread?.minimum).toBe(0.99960);
  });

  it('refuses where spread × extent exceeds the tolerance, and not at the tolerance itself', () => {
    const spread = factorSpread([0.99960, 0.99963], 0.99961, 5000);
    if (spread === null) throw new Error('a spread is expected');
    expect(groundSpreadProblem(spread, 0.149)?.code).toBe('method-ground-spread');
    expect(groundSpreadProblem(spread, spread.spreadMm / 1000)).toBeNull();
    expect(groundSpreadProblem(spread, 0.149)?.message).toContain('30 ppm');
  });

  it('refuses a scale taken far outside the job, however even the factors of the job are', () => {
    const spread = factorSpread([0.99990, 0.99990], 0.99961, 5000);
    expect(spread?.spreadMm).toBe(0);
    expect(spread === null ? null : groundSpreadProblem(spread, 0.1)?.code).toBe('method-ground-spread');
  });

  it('is nothing for a job without points', () => {
    expect(factorSpread([], 1, 1000)).toBeNull();
  });
});
