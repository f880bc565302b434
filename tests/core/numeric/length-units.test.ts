import { describe, expect, it } from 'vitest';
import {
  INTERNATIONAL_FOOT_M,
  LENGTH_UNITS,
  US_SURVEY_FOOT_M,
  lengthUnitNamed,
} from '../../../src/core/numeric/length-units.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const rows = readReferenceTable('length-units').map((row) => ({ name: row.case, row }));

describe('units of the registry', () => {
  it.each(rows)("$name has the registry's length", ({ name, row }) => {
    const found = lengthUnitNamed(name);
    expect(found).not.toBeNull();
    expect(Math.abs((found?.metres ?? NaN) / row.number('metres') - 1)).toBeLessThanOrEqual(row.tolerance);
  });

  it('has no unit that the registry does not have, and none twice', () => {
    expect(LENGTH_UNITS.map((u) => u.name).sort()).toEqual(rows.map((r) => r.name).sort());
  });
});

describe('finding a unit', () => {
  it('tells the two feet apart', () => {
    expect(US_SURVEY_FOOT_M / INTERNATIONAL_FOOT_M - 1).toBeCloseTo(2e-6, 10);
  });

  it('guesses nothing', () => {
    expect(lengthUnitNamed('ft')).toBeNull();
    expect(lengthUnitNamed(' us survey foot ')?.name).toBe('US survey foot');
  });
});
