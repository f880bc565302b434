import { describe, expect, it } from 'vitest';
import { HORIZONTAL_95, VERTICAL_95 } from '../../../src/core/observation/uncertainty/confidence-factors.js';
import { createPrecisionModel } from '../../../src/core/planning/precision-model.js';
import { usableRange } from '../../../src/core/planning/usable-range.js';
import type { Conditions, ModelSettings } from '../../../src/records/session.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import type { ReferenceRow } from '../../support/read-reference-table.js';

const normal: ModelSettings = {
  conditions: 'normal',
  horizontal: null,
  vertical: null,
  combine: 'rss',
  correlationHorizontalS: null,
  correlationVerticalS: null,
};
const POLE_HORIZONTAL_M = 0.004;
const POLE_VERTICAL_M = 0.002;

function valueOf(row: ReferenceRow): number {
  const constantMm = row.numberOrNull('constant_mm');
  const model = createPrecisionModel({
    ...normal,
    conditions: row.text('conditions') as Conditions,
    horizontal: constantMm === null ? null : { constantM: constantMm / 1000, ppm: row.number('ppm') },
    combine: row.text('combine') === 'linear' ? 'linear' : 'rss',
  });
  const quantity = row.text('quantity');
  if (quantity.startsWith('usable-range-')) {
    const limit95M = Number(quantity.slice('usable-range-'.length)) / 1000;
    return (
      usableRange(model, { axis: 'horizontal', limit95M, extraVarianceM2: 0, heightDifferenceM: null }).rangeM ?? NaN
    );
  }
  const { horizontal, vertical } = model.at(row.number('baseline_m'), row.number('height_difference_m'));
  switch (quantity) {
    case 'horizontal-95':
      return 1000 * HORIZONTAL_95 * Math.hypot(horizontal.totalM, POLE_HORIZONTAL_M);
    case 'vertical-95':
      return 1000 * VERTICAL_95 * Math.hypot(vertical.totalM, POLE_VERTICAL_M);
    case 'vertical-troposphere':
      return 1000 * vertical.troposphereM;
    case 'horizontal-sigma':
      return 1000 * horizontal.totalM;
    default:
      throw new Error(quantity);
  }
}

describe('createPrecisionModel', () => {
  for (const row of readReferenceTable('precision-model')) {
    it(`agrees with the table: ${row.case}`, () => {
      expect(Math.abs(valueOf(row) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  it('never gets better with distance, with height difference, or with worse conditions', () => {
    const order: readonly Conditions[] = ['quiet', 'normal', 'active'];
    for (let km = 1; km < 100; km += 3) {
      const at = order.map((conditions) => createPrecisionModel({ ...normal, conditions }).at(km * 1000, 200));
      const farther = createPrecisionModel(normal).at(km * 1000 + 500, 200);
      expect(farther.horizontal.totalM).toBeGreaterThan(at[1]?.horizontal.totalM ?? NaN);
      expect(farther.vertical.totalM).toBeGreaterThan(at[1]?.vertical.totalM ?? NaN);
      expect(at[1]?.vertical.totalM).toBeGreaterThan(at[0]?.vertical.totalM ?? NaN);
      expect(at[2]?.horizontal.totalM).toBeGreaterThan(at[1]?.horizontal.totalM ?? NaN);
    }
    const up = createPrecisionModel(normal).at(1000, 500).vertical.totalM;
    expect(createPrecisionModel(normal).at(1000, -500).vertical.totalM).toBe(up);
    expect(up).toBeGreaterThan(createPrecisionModel(normal).at(1000, null).vertical.totalM);
  });

  it('lengthens the correlation times from 10 to 20 km, and lets the session state them', () => {
    const times = (baselineM: number, settings = normal): readonly number[] => {
      const { correlationHorizontalS, correlationVerticalS } = createPrecisionModel(settings).at(baselineM, 0);
      return [correlationHorizontalS, correlationVerticalS];
    };
    expect(times(0)).toEqual([115, 300]);
    expect(times(10_000)).toEqual([115, 300]);
    expect(times(15_000)).toEqual([357.5, 1250]);
    expect(times(20_000)).toEqual([600, 2200]);
    expect(times(200_000)).toEqual([600, 2200]);
    expect(times(15_000, { ...normal, correlationVerticalS: 17 })).toEqual([357.5, 17]);
  });

  it('replaces only the axis that is given, and reports its proportional part', () => {
    const model = createPrecisionModel({ ...normal, vertical: { constantM: 0.015, ppm: 1 }, combine: 'linear' });
    const { horizontal, vertical } = model.at(10_000, 400);
    expect(vertical).toMatchObject({ constantM: 0.015, troposphereM: 0, ionosphereM: 0, orbitM: 0 });
    expect(vertical.proportionalM).toBeCloseTo(0.01, 15);
    expect(vertical.totalM).toBeCloseTo(0.025, 15);
    expect(horizontal.ionosphereM).toBeCloseTo(0.004, 15);
    expect(horizontal.proportionalM).toBe(0);
  });
});

describe('usableRange', () => {
  it('meets the tolerance at the range and misses it 2 mm beyond', () => {
    const model = createPrecisionModel(normal);
    const range = usableRange(model, {
      axis: 'vertical',
      limit95M: 0.08,
      extraVarianceM2: 0.0001,
      heightDifferenceM: 100,
    });
    const at = (m: number): number => VERTICAL_95 * Math.sqrt(model.at(m, 100).vertical.totalM ** 2 + 0.0001);
    expect(range.status).toBe('found');
    expect(at(range.rangeM ?? NaN)).toBeLessThanOrEqual(0.08);
    expect(at((range.rangeM ?? NaN) + 0.002)).toBeGreaterThan(0.08);
  });

  it('says when the tolerance is below the constant term, and when nothing limits the range', () => {
    const model = createPrecisionModel({ ...normal, horizontal: { constantM: 0.01, ppm: 0 } });
    const ask = { axis: 'horizontal', extraVarianceM2: 0, heightDifferenceM: null } as const;
    expect(usableRange(model, { ...ask, limit95M: 0.02 })).toEqual({ status: 'tolerance-below-constant', rangeM: 0 });
    expect(usableRange(model, { ...ask, limit95M: 0.03 })).toEqual({ status: 'unlimited', rangeM: null });
  });
});
