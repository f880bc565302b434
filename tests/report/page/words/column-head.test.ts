import { describe, expect, it } from 'vitest';
import { columnHead } from '../../../../src/report/page/words/column-head.js';

describe('a column of a data file as a head', () => {
  it.each([
    ['westing_m', { head: 'westing', unit: 'm' }],
    ['ground_easting_us_survey_ft', { head: 'ground easting', unit: 'us survey ft' }],
    ['orthometric_height_m', { head: 'orthometric height', unit: 'm' }],
    ['arc_to_chord_to_arcsec', { head: 'arc to chord to', unit: '″' }],
    ['line_scale_factor', { head: 'line scale factor' }],
    ['grid_area_m2', { head: 'grid area', unit: 'm²' }],
    ['latitude_deg', { head: 'latitude', unit: '°' }],
    ['corners', { head: 'corners' }],
  ])('parts the unit from the quantity: %s', (name, head) => {
    expect(columnHead(name, false)).toEqual(head);
  });

  it('has degrees, minutes and seconds where angles are written so', () => {
    expect(columnHead('azimuth_deg', true)).toEqual({ head: 'azimuth', unit: '° ′ ″' });
  });
});
