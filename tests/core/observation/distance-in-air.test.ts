import { describe, expect, it } from 'vitest';
import { distanceInAir, markToMark } from '../../../src/core/observation/distance-in-air.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const rows = readReferenceTable('distances');

describe('distances against the published examples', () => {
  it.each(rows.filter((row) => row.text('kind_of_row') === 'correction').map((row) => [row.case, row] as const))(
    '%s',
    (_, row) => {
      const instrument = { wavelengthUm: row.number('wavelength_um'), referenceIndex: row.number('reference_index') };
      const air = {
        temperatureC: row.number('temperature_c'),
        pressureHpa: row.number('pressure_hpa'),
        vapour: { humidityPercent: row.number('humidity_percent') },
      };
      const found = distanceInAir(row.number('distance_m'), instrument, air);
      expect(Math.abs(found - row.number('expected_slope_m'))).toBeLessThanOrEqual(row.tolerance);
    },
  );

  it.each(rows.filter((row) => row.text('kind_of_row') === 'line').map((row) => [row.case, row] as const))(
    '%s',
    (_, row) => {
      const found = markToMark(
        row.number('distance_m'),
        row.number('zenith_deg'),
        row.number('instrument_m'),
        row.number('target_m'),
      );
      const slope = row.numberOrNull('expected_slope_m');
      if (slope !== null) expect(Math.abs(found.slopeM - slope)).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(found.horizontalM - row.number('expected_horizontal_m'))).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(found.heightDifferenceM - row.number('expected_height_m'))).toBeLessThanOrEqual(row.tolerance);
    },
  );

  it('takes vapour from a wet bulb as from the humidity that it means', () => {
    const instrument = { wavelengthUm: 0.85, referenceIndex: 1.000281783 };
    const dry = { temperatureC: 20, pressureHpa: 900 };
    // e = E_w(t_w) − 0.000662 p (t − t_w) with t_w = t is saturation.
    const full = distanceInAir(1000, instrument, { ...dry, vapour: { humidityPercent: 100 } });
    expect(distanceInAir(1000, instrument, { ...dry, vapour: { wetBulbC: 20 } })).toBeCloseTo(full, 9);
    const drier = distanceInAir(1000, instrument, { ...dry, vapour: { wetBulbC: 12 } });
    // By the closed formula in mpmath: e = 9.308717 hPa, which is 39.669652 % of saturation.
    expect(drier).toBeCloseTo(1000.038_395_648, 8);
    expect(drier).toBeCloseTo(
      distanceInAir(1000, instrument, { ...dry, vapour: { humidityPercent: 39.669_651_8 } }),
      9,
    );
    expect(drier).toBeLessThan(full);
    expect(drier).toBeGreaterThan(distanceInAir(1000, instrument, { ...dry, vapour: { humidityPercent: 0 } }));
  });
});
