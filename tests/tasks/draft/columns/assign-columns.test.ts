import { describe, expect, it } from 'vitest';
import { assignColumns } from '../../../../src/tasks/draft/columns/assign-columns.js';
import type { Assignment } from '../../../../src/tasks/draft/columns/assign-columns.js';
import { columnProfiles } from '../../../../src/tasks/draft/columns/column-profile.js';

/** A table by its columns: header and cells. */
function assigned(...columns: readonly (readonly [string, ...(readonly string[])])[]): Assignment {
  const rows = (columns[0]?.slice(1) ?? []).map((_, row) => columns.map((column) => column[row + 1] ?? ''));
  return assignColumns(
    columnProfiles(
      columns.map(([header]) => header),
      null,
      rows,
      false,
    ),
  );
}
const said = ({ of, contested, free, zero }: Assignment): unknown => ({
  of: Object.fromEntries([...of].map(([quantity, { header }]) => [quantity, header])),
  contested: Object.fromEntries(
    [...contested].map(([quantity, rivals]) => [quantity, rivals.map((one) => one.header)]),
  ),
  free: free.map(({ header }) => header),
  zero: zero.map(([quantity, { header }]) => [quantity, header]),
});

describe('assignColumns', () => {
  it('takes our own name before a word of the trade, and that before one within a longer header', () => {
    expect(said(assigned(['Elevation', '2'], ['height', '1']))).toMatchObject({ of: { height: 'height' } });
    expect(said(assigned(['The latitude of it', '1'], ['Lat', '2']))).toMatchObject({
      of: { latitude_deg: 'Lat' },
      free: ['The latitude of it'],
    });
    expect(said(assigned(['Lat', '1'], ['latitude_deg', '2']))).toMatchObject({ of: { latitude_deg: 'latitude_deg' } });
    expect(said(assigned(['Pole', '1'], ['pole_length_m', '2']))).toMatchObject({
      of: { pole_length_m: 'pole_length_m' },
    });
    expect(said(assigned(['The latitude of it', '1']))).toMatchObject({ of: { latitude_deg: 'The latitude of it' } });
    // A word of five letters may stand within a longer header.
    expect(said(assigned(['canne porte', '2']))).toMatchObject({ of: { pole_length_m: 'canne porte' } });
    // Too short to be looked for within a longer one.
    expect(said(assigned(['my lat here', '1']))).toMatchObject({ of: {}, free: ['my lat here'] });
  });

  it('takes an axis in any unit, and a moment by our name', () => {
    expect(
      said(assigned(['easting_ft', '1'], ['northing_ft', '2'], ['epoch_utc', '2026-03-04T06:00:00Z'])),
    ).toMatchObject({
      of: { easting: 'easting_ft', northing: 'northing_ft', moment: 'epoch_utc' },
    });
  });

  it('says which headers name one thing alike, and takes neither for another', () => {
    expect(said(assigned(['Point', 'A'], ['Name', 'B']))).toEqual({
      of: { point_id: 'Point' },
      contested: { point_id: ['Point', 'Name'] },
      free: [],
      zero: [],
    });
  });

  it('leaves a header whose cells cannot be it, and one without cells', () => {
    expect(said(assigned(['pdop', 'good'], ['Height', '']))).toMatchObject({ of: {}, free: ['pdop', 'Height'] });
    expect(said(assigned(['pdop', '1.5', ''], ['hdop', '1', 'x']))).toMatchObject({
      of: { pdop: 'pdop' },
      free: ['hdop'],
    });
  });

  it('leaves out what is zero throughout, but neither a height nor a coordinate', () => {
    expect(
      said(assigned(['pdop', '0', '0.0'], ['Height', '0', '0'], ['Easting', '0', '0'], ['hdop', '0', '1'])),
    ).toEqual({
      of: { height: 'Height', easting: 'Easting', hdop: 'hdop' },
      contested: {},
      free: [],
      zero: [['pdop', 'pdop']],
    });
    expect(said(assigned(['Sigma E', '-1', '0'], ['Sigma N', '0', '1']))).toMatchObject({ zero: [] });
  });

  it('tells a time of day from a moment by its cells', () => {
    expect(said(assigned(['Date', '2026-03-04'], ['Time', '06:00:00']))).toMatchObject({
      of: { date: 'Date', clock: 'Time' },
    });
    expect(said(assigned(['Time', '2026-03-04T06:00:00Z']))).toMatchObject({ of: { moment: 'Time' } });
    expect(said(assigned(['Time', 'noon']))).toMatchObject({ of: {}, free: ['Time'] });
  });

  it('takes letters of a hemisphere and words of a solution for such', () => {
    expect(said(assigned(['N/S', 'N', 's'], ['E/W', 'e', 'W']))).toMatchObject({
      of: { latitude_letter: 'N/S', longitude_letter: 'E/W' },
    });
    expect(said(assigned(['N/S', 'E']))).toMatchObject({ free: ['N/S'] });
    expect(said(assigned(['E/W', 'N']))).toMatchObject({ free: ['E/W'] });
    const words = (count: number): readonly [string, ...(readonly string[])] => [
      'Solution',
      ...Array.from({ length: count }, (_, index) => `word ${String(index)}`),
    ];
    expect(said(assigned(words(12)))).toMatchObject({ of: { solution: 'Solution' } });
    expect(said(assigned(words(13)))).toMatchObject({ free: ['Solution'] });
  });

  it('takes angles in any writing for a latitude, and words for none', () => {
    expect(said(assigned(['Lat', `47°30'N`], ['Lon', 'E15']))).toMatchObject({
      of: { latitude_deg: 'Lat', longitude_deg: 'Lon' },
    });
    expect(said(assigned(['Lat', 'north', '47']))).toMatchObject({ free: ['Lat'] });
  });
});

describe('columnProfiles', () => {
  it('has each different cell with its count, most first, and least, most and median of numbers', () => {
    const [numbers, words] = columnProfiles(
      ['Sats', 'Fix'],
      null,
      [[' 9 ', 'float'], ['12', 'fixed'], ['7'], ['12', 'fixed'], ['', 'fixed ']],
      false,
    );
    expect(numbers).toMatchObject({ numbers: [9, 12, 7, 12], least: 7, most: 12, median: 12, index: 0 });
    expect(words).toMatchObject({
      numbers: null,
      cells: ['float', 'fixed', 'fixed', 'fixed'],
      distinct: [
        ['fixed', 3],
        ['float', 1],
      ],
      index: 1,
    });
    expect(words?.least).toBeNaN();
  });

  it('reads decimal commas where it is told of them', () => {
    expect(columnProfiles(['h'], null, [['1,5']], true)[0]?.numbers).toEqual([1.5]);
    expect(columnProfiles(['h'], null, [['1,5']], false)[0]?.numbers).toBeNull();
  });

  it('has no numbers where there are no cells', () => {
    expect(columnProfiles(['h'], null, [[''], []], false)[0]).toMatchObject({ numbers: null, cells: [], distinct: [] });
  });

  it('counts two hundred different cells, and no more', () => {
    const [many] = columnProfiles(
      ['n'],
      null,
      [...Array.from({ length: 250 }, (_, i) => [`a${String(i)}`]), ['a0']],
      false,
    );
    expect(many?.distinct).toHaveLength(200);
    expect(many?.distinct[0]).toEqual(['a0', 2]);
  });
});
