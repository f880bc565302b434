import { describe, expect, it } from 'vitest';
import {
  angleWriting,
  cellFactor,
  lengthFactor,
  readingProblems,
  zoneOf,
} from '../../../../src/io/tables/columns/cells/file-cells.js';
import type { ReadColumn } from '../../../../src/io/tables/columns/cells/file-cells.js';
import type { ColumnReading } from '../../../../src/records/settings/column-reading.js';

type Reading = Partial<ColumnReading>;
const COLUMNS: Readonly<Record<string, ReadColumn>> = {
  height: { name: 'ellipsoidal_height_m', kind: 'number' },
  feet: { name: 'easting_us_survey_ft', kind: 'number' },
  latitude: { name: 'latitude_deg', kind: 'latitude' },
  longitude: { name: 'longitude_deg', kind: 'longitude' },
  tilt: { name: 'tilt_deg', kind: 'number' },
  azimuth: { name: 'tilt_azimuth_deg', kind: 'direction' },
  slope: { name: 'slope_deg', kind: 'angle' },
  dilution: { name: 'pdop', kind: 'number' },
  count: { name: 'satellites_used', kind: 'whole' },
  time: { name: 'epoch_utc', kind: 'time' },
  solution: {
    name: 'solution',
    kind: 'word',
    words: new Map([
      ['fixed', 'fixed'],
      ['rtk', 'fixed'],
      ['float', 'float'],
    ]),
  },
  sigma: { name: 'sigma_horizontal_m', kind: 'number', isMappedOnly: true },
};
const readingOf = (own: Reading): ColumnReading => ({ headers: ['x'], ...own });
const said = (column: string, own: Reading | string): readonly string[] =>
  readingProblems(COLUMNS[column] as ReadColumn, typeof own === 'string' ? own : readingOf(own)).map(
    ({ message }) => message,
  );

describe('what may be said of the cells of a column', () => {
  it.each<readonly [string, Reading | string]>([
    ['height', 'H'],
    ['height', {}],
    ...(['m', 'cm', 'mm', 'ft', 'usft'] as const).map((unit) => ['height', { unit }] as const),
    ['feet', { unit: 'm' }],
    ...(['deg', 'gon', 'rad', 'dms'] as const).flatMap((unit) =>
      ['latitude', 'longitude', 'tilt', 'azimuth', 'slope'].map((column) => [column, { unit }] as const),
    ),
    ...(['DDMMSS', 'DDMM', 'D.MMSS'] as const).map((form) => ['latitude', { unit: 'dms', form }] as const),
    ['latitude', { headers: ['a', 'b'] }],
    ['longitude', { headers: ['a', 'b'] }],
    ['solution', { words: { NARROW: 'fixed', wide: 'FLOAT', x: 'rtk' } }],
    ['time', { zone: '+02:00' }],
    ['time', { form: 'YYYY-MM-DD HH:mm:ss', zone: 'Z' }],
    ['time', { form: 'YYYY-MM-DD HH:mm:ssZ' }],
    ['time', { form: 'unix-seconds' }],
    ['time', { headers: ['a', 'b'], form: 'YYYY-MM-DD HH:mm:ss', zone: 'Z' }],
    ['time', { scale: 'gps', leapSeconds: 18 }],
    ['time', { scale: 'gps', leapSeconds: 18, form: 'YYYY-MM-DD HH:mm:ss' }],
    ['time', { scale: 'gps', leapSeconds: 18, form: 'gps-week-seconds' }],
    ['time', { scale: 'utc', zone: 'Z' }],
    ...(['per-axis', 'drms', '95'] as const).map((means) => ['sigma', { means }] as const),
    ['sigma', { means: 'drms', unit: 'mm' }],
  ])('%s: %j', (column, own) => {
    expect(said(column, own)).toEqual([]);
  });

  it.each<readonly [string, Reading | string, readonly string[]]>([
    ['height', { unit: 'gon' }, ['ellipsoidal_height_m is not in gon']],
    ['height', { unit: 'deg' }, ['ellipsoidal_height_m is not in deg']],
    ['latitude', { unit: 'm' }, ['latitude_deg is not in m']],
    ['tilt', { unit: 'ft' }, ['tilt_deg is not in ft']],
    ['dilution', { unit: 'm' }, ['pdop is not in m']],
    ['dilution', { unit: 'deg' }, ['pdop is not in deg']],
    ['count', { unit: 'cm' }, ['satellites_used is not in cm']],
    ['height', { headers: ['a', 'b'] }, ['ellipsoidal_height_m is read from one column, not from two']],
    ['solution', { headers: ['a', 'b'] }, ['solution is read from one column, not from two']],
    ['latitude', { form: 'DDMMSS' }, ['latitude_deg has no form "DDMMSS"']],
    ['latitude', { unit: 'gon', form: 'DDMMSS' }, ['latitude_deg has no form "DDMMSS"']],
    ['latitude', { unit: 'dms', form: 'MMDD' }, ['latitude_deg has no form "MMDD"']],
    ['height', { form: 'YYYY' }, ['ellipsoidal_height_m has no form "YYYY"']],
    ['time', { unit: 'm', zone: 'Z' }, ['epoch_utc is a time and has no unit']],
    ['height', { words: { a: 'b' } }, ['ellipsoidal_height_m has no words to translate']],
    ['solution', { words: { a: 'firm', b: 'fixed' } }, ['"a" of solution cannot be "firm"']],
    ['height', { zone: 'Z' }, ['ellipsoidal_height_m is no time']],
    ['height', { scale: 'gps' }, ['ellipsoidal_height_m is no time']],
    ['height', { leapSeconds: 18 }, ['ellipsoidal_height_m is no time']],
    ['time', { form: 'YYYY-QQ', zone: 'Z' }, ['"YYYY-QQ" is no form of time: "Q" is no part of a time']],
    ['time', { headers: ['a', 'b'], zone: 'Z' }, ['epoch_utc is read from two columns and has no form']],
    ['time', { zone: 'CET' }, ['"CET" is no zone']],
    ['time', { scale: 'gps' }, ['epoch_utc is in GPS time without leap_seconds']],
    ['time', { leapSeconds: 18 }, ['epoch_utc has leap_seconds and is in UTC']],
    ['time', { scale: 'utc', leapSeconds: 18 }, ['epoch_utc has leap_seconds and is in UTC']],
    ['time', { scale: 'gps', leapSeconds: 18, zone: 'Z' }, ['epoch_utc is in GPS time, which has no zone']],
    ['time', { form: 'gps-week-seconds' }, ['epoch_utc counts GPS weeks']],
    ['time', { form: 'YYYY-MM-DD HH:mm:ssZ', zone: 'Z' }, ['the form of epoch_utc states the zone itself']],
    ['time', { form: 'unix-seconds', zone: 'Z' }, ['the form of epoch_utc states the zone itself']],
    ['time', { form: 'YYYY-MM-DD HH:mm:ss' }, ['epoch_utc does not state its zone']],
    ['sigma', {}, ['sigma_horizontal_m does not say what its figure means']],
    ['sigma', 'HRMS', ['sigma_horizontal_m does not say what its figure means']],
    ['height', { means: 'drms' }, ['ellipsoidal_height_m is one axis or none']],
  ])('and what may not, %s: %j', (column, own, messages) => {
    expect(said(column, own)).toEqual(messages);
  });

  it('names the words of ours once each, and the units by what they measure', () => {
    const hint = (column: string, own: Reading): string | undefined =>
      readingProblems(COLUMNS[column] as ReadColumn, readingOf(own))[0]?.hint;
    expect(hint('solution', { words: { a: 'firm' } })).toBe('words of ours: fixed, float');
    expect(hint('latitude', { unit: 'm' })).toBe('the unit is of lengths');
    expect(hint('height', { unit: 'gon' })).toBe('the unit is of angles');
    expect(readingProblems(COLUMNS['time'] as ReadColumn, readingOf({ zone: 'CET' }))[0]).toMatchObject({
      code: 'config-invalid-value',
      where: { path: 'columns.epoch_utc' },
    });
  });
});

describe('what a number of the file is multiplied with', () => {
  const FOOT = 0.3048;
  const US_FOOT = 1200 / 3937;
  it.each<readonly [string, Reading, number]>([
    ['ellipsoidal_height_m', {}, 1],
    ['ellipsoidal_height_m', { unit: 'm' }, 1],
    ['ellipsoidal_height_m', { unit: 'cm' }, 0.01],
    ['ellipsoidal_height_m', { unit: 'mm' }, 0.001],
    ['ellipsoidal_height_m', { unit: 'ft' }, FOOT],
    ['ellipsoidal_height_m', { unit: 'usft' }, US_FOOT],
    // An axis in feet, of a file in metres and in the other foot.
    ['easting_us_survey_ft', { unit: 'm' }, 1 / US_FOOT],
    ['easting_us_survey_ft', { unit: 'ft' }, FOOT / US_FOOT],
    ['easting_us_survey_ft', {}, 1],
    ['pdop', { unit: 'm' }, 1],
    ['sigma_horizontal_m', { means: 'per-axis' }, 1],
    ['sigma_horizontal_m', { means: 'drms' }, Math.SQRT1_2],
    // The root of the 95 % quantile of chi-square with two degrees of freedom, −2 ln 0.05.
    ['sigma_horizontal_m', { means: '95', unit: 'mm' }, 0.001 / Math.sqrt(-2 * Math.log(0.05))],
  ])('%s %j', (name, own, factor) => {
    expect(lengthFactor(name, readingOf(own))).toBeCloseTo(factor, 9);
    expect(cellFactor(name, readingOf(own))).toBeCloseTo(factor, 9);
  });

  it('to be degrees: nine tenths of a gon, 180/π of a radian', () => {
    expect(cellFactor('latitude_deg', readingOf({ unit: 'gon' }))).toBe(0.9);
    expect(cellFactor('latitude_deg', readingOf({ unit: 'rad' }))).toBeCloseTo(57.295_779_513, 9);
    expect(cellFactor('latitude_deg', readingOf({ unit: 'dms' }))).toBe(1);
    expect(angleWriting(readingOf({ unit: 'dms' }))).toBe('dms');
    expect(angleWriting(readingOf({ unit: 'dms', form: 'DDMM' }))).toBe('DDMM');
    expect(
      [{}, { unit: 'deg' }, { unit: 'gon' }, { unit: 'rad' }].map((own) => angleWriting(readingOf(own as Reading))),
    ).toEqual(['deg', 'deg', 'gon', 'rad']);
    expect([zoneOf(readingOf({})), zoneOf(readingOf({ zone: '-03:30' })), zoneOf(readingOf({ zone: 'Z' }))]).toEqual([
      null,
      -210,
      0,
    ]);
  });
});
