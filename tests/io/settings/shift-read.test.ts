import { describe, expect, it } from 'vitest';
import { readShift } from '../../../src/io/settings/shift-read.js';
import { codes, value } from '../support.js';

const read = (text: string): ReturnType<typeof readShift> => readShift(text, 'shift.toml');

describe('readShift', () => {
  it('reads every term of a time-dependent shift under its own name', () => {
    const file = value(
      read(`
method = "time-dependent coordinate frame rotation"
rotation_convention = "coordinate-frame"
from = "EPSG:7912"
to = "EPSG:7844"
accuracy_m = 0.03
tx_m = 1
ty_m = 2
tz_m = 3
rx_arcsec = 4
ry_arcsec = 5
rz_arcsec = 6
ds_ppm = 7
tx_m_per_year = 0.1
ty_m_per_year = 0.2
tz_m_per_year = 0.3
rx_arcsec_per_year = 0.4
ry_arcsec_per_year = 0.5
rz_arcsec_per_year = 0.6
ds_ppm_per_year = 0.7
reference_epoch_year = 2020
`),
    );
    if (file.kind !== 'geocentric') throw new Error('another kind');
    expect(file.shift.parameters).toEqual({ txM: 1, tyM: 2, tzM: 3, rxArcsec: 4, ryArcsec: 5, rzArcsec: 6, dsPpm: 7 });
    expect(file.shift.rates).toEqual({
      txMPerYear: 0.1,
      tyMPerYear: 0.2,
      tzMPerYear: 0.3,
      rxArcsecPerYear: 0.4,
      ryArcsecPerYear: 0.5,
      rzArcsecPerYear: 0.6,
      dsPpmPerYear: 0.7,
    });
    expect(file.shift).toMatchObject({
      method: 'time-dependent-coordinate-frame',
      from: 'EPSG:7912',
      to: 'EPSG:7844',
      accuracyM: 0.03,
      referenceEpochYear: 2020,
    });
  });

  it('names vertical and plane methods by name or code', () => {
    expect(value(read('method = "Vertical Offset"\nvertical_offset_m = 0.4'))).toMatchObject({
      action: { on: 'orthometric-height' },
      methodCode: 'EPSG:9616',
    });
    expect(
      value(
        read(
          'method = "EPSG:1046"\nvertical_offset_m = -0.245\norigin_latitude_deg = 46.9\norigin_longitude_deg = 8.18\ninclination_latitude_arcsec = -0.21\ninclination_longitude_arcsec = -0.032',
        ),
      ),
    ).toMatchObject({ action: { on: 'orthometric-height' }, methodCode: 'EPSG:1046' });
    expect(
      value(read('method = "affine parametric transformation"\na0 = 1\na1 = 1\na2 = 0\nb0 = 1\nb1 = 0\nb2 = 1')),
    ).toMatchObject({ action: { on: 'plane' }, methodCode: 'EPSG:9624' });
  });

  it.each([
    ['a rotation without its convention', 'method = "helmert"\nrx_arcsec = 1', 'shift-convention-missing'],
    [
      'rates without a reference epoch',
      'method = "time-dependent helmert"\nrotation_convention = "position-vector"\ntx_m_per_year = 1',
      'config-missing',
    ],
    ['an unknown method', 'method = "helmret"\nrotation_convention = "position-vector"', 'config-invalid-value'],
    ['an unknown key', 'method = "helmert"\ntx = 1', 'config-unknown-key'],
    ['no method', 'tx_m = 1', 'config-missing'],
    ['a term of another method', 'method = "geocentric translations"\nscale_factor = 1', 'config-invalid-value'],
    [
      'a term that a vertical offset does not have',
      'method = "vertical offset"\nvertical_offset_m = 1\ntx_m = 2',
      'config-invalid-value',
    ],
    ['half of a similarity', 'method = "similarity transformation"\nfirst_origin = 1', 'config-missing'],
    [
      'half of an evaluation point',
      'method = "molodensky-badekas"\nrotation_convention = "position-vector"\npivot_x_m = 1',
      'config-missing',
    ],
    ['what is no TOML', 'method = ', 'config-syntax'],
  ])('refuses %s', (_, text, code) => {
    const outcome = read(text);
    expect(codes(outcome)).toEqual([code]);
    expect(outcome.problems[0]?.where?.source).toBe('shift.toml');
  });
});
