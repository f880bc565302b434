import { describe, expect, it } from 'vitest';
import { factorSpread, groundSpreadProblem } from '../../../../src/core/grid/factors/ground-factor-spread.js';
import { createGroundScale } from '../../../../src/core/grid/factors/ground-scale.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { valueOf } from '../../../support/shift-of-row.js';

const rows = readReferenceTable('ground').map((row) => ({ name: row.case, row }));

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

  it.each(rows)('$name: to ground and back', ({ row }) => {
    const [aboutFirst = NaN, aboutSecond = NaN] = row.numbers('about');
    const [gridFirst = NaN, gridSecond = NaN] = row.numbers('grid');
    const [groundFirst = NaN, groundSecond = NaN] = row.numbers('ground');
    const about = valueOf(createGroundScale(aboutFirst, aboutSecond, row.number('combined_factor')));
    const out = { first: 0, second: 0 };
    about.forward(gridFirst, gridSecond, out);
    expect(Math.max(Math.abs(out.first - groundFirst), Math.abs(out.second - groundSecond))).toBeLessThanOrEqual(
      row.tolerance,
    );
    about.inverse(groundFirst, groundSecond, out);
    expect(Math.max(Math.abs(out.first - gridFirst), Math.abs(out.second - gridSecond))).toBeLessThanOrEqual(
      row.tolerance,
    );
  });

  it('refuses a factor that cannot be one', () => {
    for (const factor of [0, 2, -1, NaN, 400])
      expect(createGroundScale(0, 0, factor).problems[0]?.code).toBe('config-invalid-value');
    expect(createGroundScale(Infinity, 0, 1).problems[0]?.code).toBe('config-invalid-value');
  });
});

describe('the spread of the factor', () => {
  it('is stated in ppm and in millimetres over the extent of the job', () => {
    const spread = factorSpread([0.9996, 0.99963, 0.99961], 0.99961, 5000);
    expect(spread?.spreadPpm).toBeCloseTo(30.0117, 3);
    expect(spread?.worstPpm).toBeCloseTo(20.0078, 3);
    expect(spread?.spreadMm).toBeCloseTo(150.0585, 3);
    expect(spread?.minimum).toBe(0.9996);
  });

  it('refuses where spread × extent exceeds the tolerance, and not at the tolerance itself', () => {
    const spread = factorSpread([0.9996, 0.99963], 0.99961, 5000);
    if (spread === null) throw new Error('a spread is expected');
    expect(groundSpreadProblem(spread, 0.149)?.code).toBe('method-ground-spread');
    expect(groundSpreadProblem(spread, spread.spreadMm / 1000)).toBeNull();
    expect(groundSpreadProblem(spread, 0.149)?.message).toContain('30 ppm');
  });

  it('refuses a scale taken far outside the job, however even the factors of the job are', () => {
    const spread = factorSpread([0.9999, 0.9999], 0.99961, 5000);
    expect(spread?.spreadMm).toBe(0);
    expect(spread === null ? null : groundSpreadProblem(spread, 0.1)?.code).toBe('method-ground-spread');
  });

  it('is nothing for a job without points', () => {
    expect(factorSpread([], 1, 1000)).toBeNull();
  });
});
