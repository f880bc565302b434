import { describe, expect, it } from 'vitest';
import { createPrecisionModel } from '../../../src/core/planning/precision-model.js';
import { usableRange } from '../../../src/core/planning/usable-range.js';
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
