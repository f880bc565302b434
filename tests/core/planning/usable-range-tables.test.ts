import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createPrecisionModel } from '../../../src/core/planning/precision-model.js';
import { HORIZONTAL_95, VERTICAL_95 } from '../../../src/core/observation/uncertainty/confidence-factors.js';
import type { PrecisionModel } from '../../../src/core/planning/precision-model.js';
import { averagedModel } from '../../../src/core/planning/remedy.js';
import { LONGEST_RANGE_M, usableRange } from '../../../src/core/planning/usable-range.js';
import type { RangeRequest } from '../../../src/core/planning/usable-range.js';
import type { ModelSettings } from '../../../src/records/session.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

describe('usableRange', () => {
  for (const row of readReferenceTable('ranges')) {
    it(`finds the range of ${row.case}`, () => {
      const given = { constantM: row.number('constant_mm') / 1000, ppm: row.number('ppm') };
      const axis = row.text('axis') === 'vertical' ? 'vertical' : 'horizontal';
      const settings: ModelSettings = {
        conditions: 'normal',
        horizontal: given,
        vertical: given,
        combine: row.text('combine') === 'linear' ? 'linear' : 'rss',
        correlationHorizontalS: null,
        correlationVerticalS: null,
      };
      const found = usableRange(createPrecisionModel(settings), {
        axis,
        limit95M: row.number('tolerance_mm') / 1000,
        extraVarianceM2: 0,
        heightDifferenceM: null,
      });
      const expected = row.numberOrNull('expected_m');
      if (expected === null) expect(found.status).toBe('tolerance-below-constant');
      else {
        expect(found.status).toBe('found');
        expect(Math.abs((found.rangeM ?? Number.NaN) - expected)).toBeLessThanOrEqual(row.tolerance);
      }
    });
  }
});

/** The range by halving alone, which is what `usableRange` is to give, to the last bit. */
function halved(model: PrecisionModel, request: RangeRequest): number {
  const factor = request.axis === 'horizontal' ? HORIZONTAL_95 : VERTICAL_95;
  let [insideM, outsideM] = [0, LONGEST_RANGE_M];
  while (outsideM - insideM > 0.0005) {
    const middleM = 0.5 * (insideM + outsideM);
    const sigmaM = model.at(middleM, request.heightDifferenceM)[request.axis].totalM;
    if (factor * Math.sqrt(sigmaM * sigmaM + request.extraVarianceM2) <= request.limit95M) insideM = middleM;
    else outsideM = middleM;
  }
  return insideM;
}

describe('usableRange beside halving alone', () => {
  const given = fc.option(
    fc.record({
      constantM: fc.double({ noNaN: true, min: 0, max: 0.05 }),
      ppm: fc.double({ noNaN: true, min: 0, max: 5 }),
    }),
    { nil: null },
  );
  const settings = fc.record({
    conditions: fc.constantFrom('quiet' as const, 'normal' as const, 'active' as const),
    horizontal: given,
    vertical: given,
    combine: fc.constantFrom('rss' as const, 'linear' as const),
    correlationHorizontalS: fc.option(fc.double({ noNaN: true, min: 1, max: 3000 }), { nil: null }),
    correlationVerticalS: fc.option(fc.double({ noNaN: true, min: 1, max: 3000 }), { nil: null }),
  });
  const request = fc.record({
    axis: fc.constantFrom('horizontal' as const, 'vertical' as const),
    limit95M: fc.double({ noNaN: true, min: 0.001, max: 1 }),
    extraVarianceM2: fc.oneof(fc.constant(0), fc.double({ noNaN: true, min: 0, max: 1e-4 })),
    heightDifferenceM: fc.option(fc.double({ noNaN: true, min: -3000, max: 3000 }), { nil: null }),
  });
  const asked = fc.record({ settings, request, epochCount: fc.constantFrom(1, 1, 10, 300) });

  it('gives the same number, to the last bit', () => {
    let found = 0;
    fc.assert(
      fc.property(asked, ({ settings: own, request: of, epochCount }) => {
        const model = averagedModel(createPrecisionModel(own), epochCount);
        const range = usableRange(model, of);
        if (range.status !== 'found') return;
        found += 1;
        expect(range.rangeM).toBe(halved(model, of));
      }),
      { numRuns: 3000 },
    );
    expect(found).toBeGreaterThan(200);
  });
});
