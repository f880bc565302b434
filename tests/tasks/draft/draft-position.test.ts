import { describe, expect, it } from 'vitest';
import { assignColumns } from '../../../src/tasks/draft/columns/assign-columns.js';
import { columnProfiles } from '../../../src/tasks/draft/columns/column-profile.js';
import type { DraftValue } from '../../../src/tasks/draft/draft-line.js';
import { positionColumns } from '../../../src/tasks/draft/draft-position.js';
import type { AxisPair, PositionLines } from '../../../src/tasks/draft/draft-position.js';

type Column = readonly [string, ...(readonly string[])];

/** What is drafted of a table by its columns: header and cells. */
function position(
  columns: readonly Column[],
  axes: AxisPair | null = null,
  answers: readonly (readonly [string, DraftValue])[] = [],
): PositionLines {
  const rows = (columns[0]?.slice(1) ?? []).map((_, row) => columns.map((column) => column[row + 1] ?? ''));
  const profiles = columnProfiles(
    columns.map(([header]) => header),
    null,
    rows,
    false,
  );
  return positionColumns(assignColumns(profiles), false, axes, new Map(answers));
}
/** The lines as they would be written, each setting with its value. */
const settings = ({ lines }: PositionLines): unknown =>
  Object.fromEntries(lines.map(({ path, value }) => [path.join('.'), value]));
const whyOf = ({ lines }: PositionLines, name: string): string =>
  lines
    .filter(({ path }) => path[1] === name)
    .flatMap(({ why }) => why)
    .join(' | ');
const HEIGHT: Column = ['ellipsoidal_height_m', '100'];
const LATITUDE = 'columns.latitude_deg';
const LONGITUDE = 'columns.longitude_deg';

describe('latitudes and longitudes', () => {
  it('are taken from the columns that are named for them, and say where the work lies', () => {
    const found = position([['Lat', '-31.5', '-31.25'], ['Lon', '21.5', '21.25'], HEIGHT]);
    expect(found).toMatchObject({
      kind: 'geographic',
      box: { southDeg: -31.5, northDeg: -31.25, westDeg: 21.25, eastDeg: 21.5 },
      height: 'ellipsoidal',
    });
    expect(settings(found)).toEqual({
      [LATITUDE]: 'Lat',
      [LONGITUDE]: 'Lon',
      'columns.ellipsoidal_height_m': 'ellipsoidal_height_m',
    });
  });

  it.each<readonly [string, readonly string[], readonly [number, number]]>([
    ['across the 180th meridian', ['179.9', '-179.9'], [179.9, 180.1]],
    ['half around the globe', ['-90', '90'], [-90, 90]],
    ['the other way where that is shorter', ['-90', '91'], [91, 270]],
    ['with the meridian of Greenwich in it', ['0', '170', '-170'], [0, 190]],
    ['and a place just east of it', ['0.5', '170', '-170'], [0.5, 190]],
  ])('make a box %s', (_, longitudes, [westDeg, eastDeg]) => {
    const { box } = position([
      ['Lat', ...longitudes.map(() => '10')],
      ['Lon', ...longitudes],
    ]);
    expect(box).toEqual({ southDeg: 10, northDeg: 10, westDeg, eastDeg: expect.closeTo(eastDeg, 9) as number });
  });

  it.each<readonly [string, string, string, boolean]>([
    ['a latitude beyond a pole', '90.5', '45', true],
    ['a longitude of 90 degrees, which could be a latitude', '121', '90', true],
    ['a southern one', '-121', '-90', true],
    ['a full turn', '360', '45', true],
    ['a longitude that is none of a pole', '121', '90.5', false],
    ['a latitude that is no angle', '361', '45', false],
    ['a latitude that could be one', '90', '45', false],
  ])('look exchanged, or not, by %s: %s beside %s', (_, latitude, longitude, isSwapped) => {
    const found = position([
      ['Lat', latitude],
      ['Lon', longitude],
    ]);
    const said = whyOf(found, 'latitude_deg').includes('they look exchanged');
    expect(said).toBe(isSwapped);
    if (isSwapped) {
      expect(settings(found)).toMatchObject({ [LATITUDE]: '?', [LONGITUDE]: '?' });
      expect(found.box).toBeNull();
      expect(whyOf(found, 'latitude_deg')).toContain(
        `"Lat" holds ${latitude}, "Lon" ${longitude}: they look exchanged`,
      );
    }
  });

  it('are asked for where one of them is missing, is no angle, or is zero throughout', () => {
    const missing = 'which column holds the';
    expect(whyOf(position([['Lon', '21.5']]), 'latitude_deg')).toBe(`${missing} latitude?`);
    expect(whyOf(position([['Lat', '95']]), 'longitude_deg')).toBe(`${missing} longitude?`);
    const noAngle = position([
      ['Lat', '47'],
      ['Lon', '365'],
    ]);
    expect(noAngle.box).toBeNull();
    expect(settings(noAngle)).toMatchObject({ [LATITUDE]: 'Lat', [LONGITUDE]: { header: 'Lon', unit: '?' } });
    const zero = position([
      ['Lat', '0', '0'],
      ['Lon', '21', '22'],
    ]);
    expect(zero.box).toBeNull();
    expect(settings(zero)).toMatchObject({ [LATITUDE]: '?', [LONGITUDE]: 'Lon' });
    expect(whyOf(zero, 'latitude_deg')).toContain('holds only 0');
    // On the equator once is a place like another.
    expect(
      settings(
        position([
          ['Lat', '0', '1'],
          ['Lon', '1', '1'],
        ]),
      ),
    ).toMatchObject({ [LATITUDE]: 'Lat', [LONGITUDE]: 'Lon' });
  });

  it('of which one could be written in two ways are read as the other one is', () => {
    // 50°45' or 0°50'45": the longitude has degrees, minutes and seconds.
    const found = position([
      ['Lat', '05045'],
      ['Lon', '1213036'],
    ]);
    expect(settings(found)).toMatchObject({ [LATITUDE]: { header: 'Lat', unit: 'dms', form: 'DDMMSS' } });
    expect(found.box?.southDeg).toBeCloseTo(50 / 60 + 45 / 3600, 9);
  });
});

describe('geocentric coordinates', () => {
  it.each<readonly [string, string, string, string, PositionLines['kind']]>([
    ['on the equator', '6378137', '0', '0', 'geocentric'],
    ['at a pole', '0', '0', '6356752', 'geocentric'],
    ['low', '6310000', '0', '0', 'geocentric'],
    ['high', '0', '-6490000', '0', 'geocentric'],
    ['too low for the Earth', '6290000', '0', '0', 'grid'],
    ['too high for its surface', '6600000', '0', '0', 'grid'],
  ])('are known by their distance from the middle of the Earth: %s', (_, x, y, z, kind) => {
    const found = position([
      ['X', x],
      ['Y', y],
      ['Z', z],
    ]);
    expect(found.kind).toBe(kind);
    if (kind === 'geocentric') {
      expect(settings(found)).toEqual({ 'columns.x_m': 'X', 'columns.y_m': 'Y', 'columns.z_m': 'Z' });
      expect(found).toMatchObject({ box: null, height: 'own' });
    } else {
      expect(settings(found)).toMatchObject({ 'columns.easting_m': '?', 'columns.northing_m': '?' });
      expect(whyOf(found, 'easting_m')).toContain('trades and countries differ in which is the easting');
    }
  });
});

describe('grid coordinates', () => {
  it.each<readonly [string, string, string, string]>([
    ['Easting', 'Northing', 'easting_m', 'northing_m'],
    ['Westing', 'Southing', 'westing_m', 'southing_m'],
    ['Westing', 'Northing', 'westing_m', 'northing_m'],
  ])('%s and %s are %s and %s', (first, second, ...names) => {
    const found = position([[first, '500000'], [second, '4000000'], HEIGHT]);
    expect(found.kind).toBe('grid');
    expect(settings(found)).toEqual({
      [`columns.${names[0]}`]: first,
      [`columns.${names[1]}`]: second,
      'columns.ellipsoidal_height_m': 'ellipsoidal_height_m',
    });
  });

  it('never turn a sign by themselves: a word that counts the other way than the axis is asked about', () => {
    const south = position([['Easting', '38000'], ['Southing', '3486641'], HEIGHT]);
    expect(settings(south)).toMatchObject({ 'columns.westing_m': '?', 'columns.southing_m': 'Southing' });
    expect(whyOf(south, 'westing_m')).toContain('a sign is never guessed');
    // Westings and southings are what the answered system counts; the file speaks of eastings and northings.
    const other = position([['Easting', '38000'], ['Northing', '3486641'], HEIGHT], ['westing_m', 'southing_m']);
    expect(settings(other)).toMatchObject({ 'columns.westing_m': '?', 'columns.southing_m': '?' });
    expect(whyOf(other, 'southing_m')).toContain('"Northing" says northing, and the system counts the other way');
  });

  it('bear the names of the axes of the system that is answered, and need no unit where those say theirs', () => {
    const found = position([['Easting', '500000'], ['Northing', '4000000'], HEIGHT], ['easting_usft', 'northing_usft']);
    expect(settings(found)).toMatchObject({ 'columns.easting_usft': 'Easting', 'columns.northing_usft': 'Northing' });
    expect(whyOf(found, 'easting_usft')).toBe('in the unit of the system, values 500000');
    // Until the system is said, the name is to be that of one of its axes.
    const open = position([['Easting', '500000'], ['Northing', '4000000'], HEIGHT]);
    expect(whyOf(open, 'easting_m')).toContain('the name is that of an axis of the system in [system] fixes');
  });

  it.each<readonly [string, Column]>([
    ['an easting', ['Easting', '500000']],
    ['a northing', ['Northing', '4000000']],
    ['an x', ['X', '500000']],
    ['a y', ['Y', '4000000']],
    ['nothing', ['Note', 'by the gate']],
  ])('are asked for as latitude and longitude where there is only %s', (_, column) => {
    const found = position([column, ['Quaver', 'a']]);
    expect(found.kind).toBe('unknown');
    expect(settings(found)).toMatchObject({ [LATITUDE]: '?', [LONGITUDE]: '?' });
    expect(whyOf(found, 'latitude_deg')).toContain('Quaver');
  });
});

describe('the height', () => {
  const GRID: readonly Column[] = [
    ['Easting', '500000'],
    ['Northing', '4000000'],
  ];
  it('keeps the kind that its header says', () => {
    expect(position([...GRID, ['orthometric_height_m', '12']])).toMatchObject({ height: 'orthometric' });
    expect(position([...GRID, HEIGHT, ['orthometric_height_m', '12']])).toMatchObject({ height: 'ellipsoidal' });
  });

  it('is asked where its header says none, and where there is no column of it', () => {
    const bare = position([...GRID, ['Height', '12']]);
    expect(bare.height).toBe('asked');
    expect(settings(bare)).toMatchObject({ 'columns.ellipsoidal_height_m': '?' });
    expect(whyOf(bare, 'ellipsoidal_height_m')).toContain('"Height" does not say which height it is');
    expect(settings(position([...GRID, ['Height [ft]', '12']]))).toMatchObject({
      'columns.ellipsoidal_height_m': { header: '?', unit: '?' },
    });
    expect(whyOf(position(GRID), 'ellipsoidal_height_m')).toBe('which column holds the height above the ellipsoid?');
  });

  it.each<readonly [string, string, string]>([
    ['columns.orthometric_height_m', 'orthometric_height_m', 'orthometric'],
    ['columns.orthometric_height_m.unit', 'orthometric_height_m', 'orthometric'],
    ['columns.ellipsoidal_height_m', 'ellipsoidal_height_m', 'ellipsoidal'],
  ])('is of the kind that %s answers', (key, name, kind) => {
    const found = position([...GRID, ['Height', '12']], null, [[key, 'm']]);
    expect(found.height).toBe(kind);
    expect(settings(found)).toMatchObject({ [`columns.${name}`]: 'Height' });
    expect(settings(position(GRID, null, [[key, 'm']]))).toMatchObject({ [`columns.${name}`]: '?' });
  });
});
