import { describe, expect, it } from 'vitest';
import { entryAt } from '../../../../src/records/present.js';
import { columnProfiles } from '../../../../src/tasks/draft/columns/column-profile.js';
import type { ColumnProfile } from '../../../../src/tasks/draft/columns/column-profile.js';
import { guessLength } from '../../../../src/tasks/draft/guesses/guess-length.js';
import { guessAngle } from '../../../../src/tasks/draft/guesses/guess-angle.js';

const column = (header: string, ...cells: readonly string[]): ColumnProfile =>
  entryAt(
    columnProfiles(
      [header],
      null,
      cells.map((cell) => [cell]),
      false,
    ),
    0,
  );

describe('guessLength', () => {
  it.each([
    ['pole (m)', 'pole (m)'],
    ['pole ft', { header: 'pole ft', unit: '?' }],
    ['pole US ft', { header: 'pole US ft', unit: 'usft' }],
    ['pole (intl ft)', { header: 'pole (intl ft)', unit: 'ft' }],
    ['pole [mm]', { header: 'pole [mm]', unit: 'mm' }],
    ['pole cm', { header: 'pole cm', unit: 'cm' }],
  ])('takes the unit that %s says', (header, value) => {
    expect(guessLength(column(header, '2'), 'pole_length_m', false).value).toEqual(value);
  });

  // A pole is carried by one person, and a sigma of more than half a metre is hardly one; common practice, no published source.
  it.each<readonly [string, string, boolean]>([
    ['pole_length_m', '0.3', true],
    ['pole_length_m', '0.29', false],
    ['pole_length_m', '5', true],
    ['pole_length_m', '5.01', false],
    ...['sigma_east_m', 'sigma_north_m', 'sigma_up_m', 'sigma_horizontal_m'].flatMap(
      (name): (readonly [string, string, boolean])[] => [
        [name, '0.5', true],
        [name, '0.51', false],
        [name, '0.008', true],
        [name, '0', true],
        [name, '-0.01', false],
      ],
    ),
    ['easting_m', '512345.6', true],
  ])('takes a %s of %s for metres without being told: %s', (name, cell, isMetres) => {
    expect(guessLength(column('x', cell), name, false).value).toEqual(isMetres ? 'x' : { header: 'x', unit: '?' });
    // Where another header says feet, it is asked.
    expect(guessLength(column('x', cell), name, true).value).toEqual({ header: 'x', unit: '?' });
  });

  it('goes by the median, and says the range', () => {
    const { value, why } = guessLength(column('pole', '2', '2', '900'), 'pole_length_m', false);
    expect(value).toBe('pole');
    expect(why.join()).toContain('values 2 to 900');
    expect(guessLength(column('pole', '2', '2'), 'pole_length_m', false).why.join()).toContain('every value 2');
  });
});

describe('guessAngle', () => {
  const guess = (axis: 'latitude' | 'longitude', header: string, ...cells: readonly string[]) =>
    guessAngle(column(header, ...cells), axis, false, null);

  it.each([
    ['latitude', 'lat', ['-31.51'], 'lat', [-31.51]],
    ['longitude', 'lon', ['200.5'], 'lon', [-159.5]],
    ['longitude', 'lon', ['180'], 'lon', [180]],
    ['longitude', 'lon', ['360'], 'lon', [0]],
    ['latitude', 'lat (gon)', ['35.0'], { header: 'lat (gon)', unit: 'gon' }, [31.5]],
    ['latitude', 'lat rad', ['0.5'], { header: 'lat rad', unit: 'rad' }, [(0.5 * 180) / Math.PI]],
    ['latitude', 'lat', ['313036.0'], { header: 'lat', unit: 'dms', form: 'DDMMSS' }, [31.51]],
    ['longitude', 'lon', ['-1153036'], { header: 'lon', unit: 'dms', form: 'DDMMSS' }, [-115.51]],
    ['latitude', 'lat', ['3130.6'], { header: 'lat', unit: 'dms', form: 'DDMM' }, [31.51]],
    ['latitude', 'lat dms', ['31.3036'], { header: 'lat dms', unit: 'dms', form: 'D.MMSS' }, [31.51]],
    ['latitude', 'lat dms', ['313036'], { header: 'lat dms', unit: 'dms', form: 'DDMMSS' }, [31.51]],
  ] as const)('%s of %s %j', (axis, header, cells, value, degrees) => {
    const found = guess(axis, header, ...cells);
    expect(found.value).toEqual(value);
    expect(found.degrees).toEqual(degrees.map((one) => expect.closeTo(one, 9) as unknown));
  });

  it.each([
    ['latitude', '90.1'],
    ['latitude', '-90.1'],
    ['longitude', '360.1'],
    ['longitude', '-180.1'],
    ['latitude', '200'],
  ] as const)('asks of a %s of %s', (axis, cell) => {
    expect(guess(axis, 'x', cell).value).toEqual({ header: 'x', unit: '?' });
  });

  it('reads five digits as the other axis is written', () => {
    const five = column('lon', '12345.0');
    expect(guessAngle(five, 'longitude', false, null).value).toEqual({ header: 'lon', unit: '?' });
    expect(guessAngle(five, 'longitude', false, null, 'DDMM').writing).toBe('DDMM');
    expect(guessAngle(five, 'longitude', false, null, 'DDMMSS').writing).toBe('DDMMSS');
  });

  it('reads letters of a column beside it', () => {
    const letters = column('NS', 'S');
    const found = guessAngle(column('lat', '31.51'), 'latitude', false, letters);
    expect(found.value).toEqual({ header: ['lat', 'NS'] });
    expect(found.degrees?.[0]).toBeCloseTo(-31.51, 12);
  });
});
