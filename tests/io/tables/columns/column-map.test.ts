import { describe, expect, it } from 'vitest';
import { mapColumns } from '../../../../src/io/tables/columns/column-map.js';
import type { TableSpec } from '../../../../src/io/tables/columns/column-map.js';
import { fixTable } from '../../../../src/io/tables/fixes/fix-table.js';
import { codes, value } from '../../support.js';

const FIX_TABLE = fixTable({ header: [], hasHeader: true }, {}, null).spec;

const table = (
  header: readonly string[],
  hasHeader = true,
): { source: string; header: readonly string[]; headerLine: number; hasHeader: boolean } => ({
  source: 'a.csv',
  header,
  headerLine: 1,
  hasHeader,
});
const POSITION = ['latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'];

describe('mapColumns', () => {
  it("finds our names whatever their case and passes the rest through in the file's order", () => {
    const map = value(mapColumns(table(['Zone', 'POINT_ID', ...POSITION, 'crew']), FIX_TABLE, {}));
    expect(map.index('point_id')).toBe(1);
    expect(map.index('pdop')).toBe(-1);
    expect(map.passThrough).toEqual([
      { name: 'Zone', index: 0 },
      { name: 'crew', index: 5 },
    ]);
  });

  it('follows a mapping, exact before case', () => {
    const map = value(mapColumns(table(['station', 'Station', ...POSITION]), FIX_TABLE, { point_id: 'Station' }));
    expect(map.index('point_id')).toBe(1);
    expect(map.passThrough.map((column) => column.name)).toEqual(['station']);
  });

  it('lets a column "height" pass where the table has no heights', () => {
    const bare = table(['point_id', 'latitude_deg', 'longitude_deg', 'height']);
    const flat: TableSpec = { ...FIX_TABLE, heights: [], required: ['point_id'], choices: [] };
    expect(value(mapColumns(bare, flat, {})).passThrough.map(({ name }) => name)).toContain('height');
  });

  it('takes positions only where there is no header', () => {
    const mapping = { point_id: '1', latitude_deg: '3', longitude_deg: '2', ellipsoidal_height_m: '4' };
    const map = value(mapColumns(table(['1', '2', '3', '4'], false), FIX_TABLE, mapping));
    expect(map.index('latitude_deg')).toBe(2);
    expect(codes(mapColumns(table(['1', '2', '3', '4'], false), FIX_TABLE, { ...mapping, point_id: '5' }))).toContain(
      'csv-missing-column',
    );
    expect(codes(mapColumns(table(['id', ...POSITION]), FIX_TABLE, { point_id: '1' }))).toContain('csv-missing-column');
  });

  it('lists the headers found and suggests the nearest for a missing column', () => {
    const outcome = mapColumns(
      table(['point_id', 'latitude_dg', 'longitude_deg', 'ellipsoidal_height_m']),
      FIX_TABLE,
      {},
    );
    expect(outcome.problems).toMatchObject([
      { code: 'csv-missing-column', message: 'there is no column latitude_deg' },
    ]);
    expect(outcome.problems[0]?.hint).toContain('latitude_deg=latitude_dg');
    expect(outcome.problems[0]?.hint).toContain('headers found: point_id, latitude_dg');
  });

  it('names every way of giving a position when none is begun', () => {
    const outcome = mapColumns(table(['point_id']), FIX_TABLE, {});
    expect(outcome.problems[0]?.message).toContain(
      'latitude_deg, longitude_deg, ellipsoidal_height_m; or x_m, y_m, z_m',
    );
  });

  it('suggests the name for a mapping of a column we do not have', () => {
    const outcome = mapColumns(table(['Station', ...POSITION]), FIX_TABLE, { point_ids: 'Station' });
    expect(outcome.problems[0]).toMatchObject({ code: 'usage-invalid', hint: 'did you mean point_id?' });
  });

  it.each(['height', 'Z', 'elevation', 'h', 'Alt'])('refuses a bare %s where no height is named', (name) => {
    const outcome = mapColumns(table(['point_id', 'latitude_deg', 'longitude_deg', name]), FIX_TABLE, {});
    expect(codes(outcome)).toEqual(['height-kind-unstated']);
    expect(outcome.problems[0]?.hint).toBe(
      `say it with --columns ellipsoidal_height_m=${name} or --columns orthometric_height_m=${name}`,
    );
  });

  it('lets a bare height through where the height is known, geocentric included', () => {
    expect(mapColumns(table(['point_id', ...POSITION, 'height']), FIX_TABLE, {}).ok).toBe(true);
    expect(mapColumns(table(['point_id', 'x_m', 'y_m', 'z_m', 'height']), FIX_TABLE, {}).ok).toBe(true);
  });

  it('refuses a bare height where a height is only optional', () => {
    const spec: TableSpec = {
      columns: [
        { name: 'point_id', kind: 'id' },
        { name: 'orthometric_height_m', kind: 'number' },
      ],
      required: ['point_id'],
      choices: [],
      heights: ['orthometric_height_m'],
    };
    expect(codes(mapColumns(table(['point_id', 'z']), spec, {}))).toEqual(['height-kind-unstated']);
  });

  it('refuses two headers that differ only by case, and warns of two positions', () => {
    expect(codes(mapColumns(table(['point_id', 'Point_ID', ...POSITION]), FIX_TABLE, {}))).toEqual([
      'csv-column-ambiguous',
    ]);
    const both = mapColumns(table(['point_id', ...POSITION, 'x_m', 'y_m', 'z_m']), FIX_TABLE, {});
    expect(both.ok).toBe(true);
    expect(both.problems).toMatchObject([{ code: 'csv-column-ambiguous', severity: 'warning' }]);
  });
});
