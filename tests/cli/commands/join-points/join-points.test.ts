import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { gridOf } from '../../../core/grid/systems.js';
import { angleOf } from '../../../support/angle-of.js';
import { readReferenceTable, type ReferenceRow } from '../../../support/read-reference-table.js';
import { runInProcess } from '../../../support/run-in-process.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-join-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The one line of a run, by column. */
async function joined(
  points: string,
  system: string,
  extra: readonly string[] = [],
): Promise<Readonly<Record<string, string>>> {
  writeFileSync(join(folder, 'p.csv'), points);
  const result = await runInProcess(
    ['join-points', 'p.csv', '--system', system, '--from', 'A', '--to', 'B', ...extra],
    { cwd: folder },
  );
  expect(result.exit, result.stderr).toBe(0);
  const [header = '', row = ''] = result.stdout.toString('utf8').split('\n');
  const cells = row.split(',');
  return Object.fromEntries(header.split(',').map((name, index) => [name, cells[index] ?? '']));
}

function farEnd(row: ReferenceRow): { readonly latitude: string; readonly longitude: string } {
  if (row.text('to_latitude_deg') !== '')
    return { latitude: row.text('to_latitude_deg'), longitude: row.text('to_longitude_deg') };
  const geodesic = createGeodesic(gridOf(row.text('system')).base.ellipsoid);
  const end = geodesic.direct(
    angleOf(row.text('latitude_deg')),
    angleOf(row.text('longitude_deg')),
    row.number('azimuth_deg'),
    row.number('distance_m'),
  );
  return { latitude: String(end.latitudeDeg), longitude: String(end.longitudeDeg) };
}

describe('pegbook join-points', () => {
  for (const row of readReferenceTable('lines')) {
    it(`gives the distances, scale and corrections of the line: ${row.case}`, async () => {
      const end = farEnd(row);
      const points = `point_id,latitude_deg,longitude_deg\nA,${row.text('latitude_deg')},${row.text('longitude_deg')}\nB,${end.latitude},${end.longitude}\n`;
      const cells = await joined(points, row.text('system'));
      expect(Math.abs(Number(cells['grid_distance_m']) - row.number('grid_distance_m'))).toBeLessThanOrEqual(
        row.tolerance + 5e-5,
      );
      const arcsec = row.number('angle_tolerance_arcsec');
      for (const [column, tolerance] of [
        ['line_scale_factor', row.number('factor_tolerance') + 5e-10],
        ['arc_to_chord_from_arcsec', arcsec + 5e-4],
        ['arc_to_chord_to_arcsec', arcsec + 5e-4],
      ] as const) {
        const expected = row.numberOrNull(column);
        if (expected !== null)
          expect(Math.abs(Number(cells[column]) - expected), column).toBeLessThanOrEqual(tolerance);
      }
      // Simpson's rule is within 0.2 mm of the straight line over 60 km.
      expect(
        Math.abs(
          Number(cells['ellipsoidal_distance_m']) * Number(cells['line_scale_factor']) -
            Number(cells['grid_distance_m']),
        ),
      ).toBeLessThan(3e-4);
    });
  }
  for (const row of readReferenceTable('joins')) {
    it(`gives the published value: ${row.case}`, async () => {
      const points = [
        'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m',
        ...(['from', 'to'] as const).map(
          (end, index) =>
            `${index === 0 ? 'A' : 'B'},${row.text(`${end}_latitude_deg`)},${row.text(`${end}_longitude_deg`)},${row.text(`${end}_height_m`)}`,
        ),
      ].join('\n');
      const cells = await joined(`${points}\n`, row.text('system'));
      const isAngle = row.toleranceUnit === 'arcsec';
      const expected = isAngle ? angleOf(row.text('expected')) : row.number('expected');
      expect(Math.abs(Number(cells[row.text('quantity')]) - expected) * (isAngle ? 3600 : 1)).toBeLessThanOrEqual(
        row.tolerance,
      );
    });
  }

  it('gives the length on the ellipsoid of a ground length at 3 km, as the examination has it', async () => {
    // TW-EXAM-104070, subject 905-04, question 4: 2386.987 m at 3 km on a sphere of 6371 km is 2385.864 m.
    writeFileSync(join(folder, 'p.csv'), 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,24,121,3000\n');
    writeFileSync(
      join(folder, 'polar.csv'),
      'point_id,from_id,azimuth_deg,distance_m,distance_kind,ellipsoidal_height_difference_m\nB,A,37,2386.987,ground,0\n',
    );
    const system = '+proj=tmerc +lat_0=0 +lon_0=121 +k_0=0.9999 +x_0=250000 +R=6371000';
    const polar = await runInProcess(['join-points', 'p.csv', '--system', system, '--polar', 'polar.csv'], {
      cwd: folder,
    });
    const [, row = ''] = polar.stdout.toString('utf8').split('\n');
    const [, , , , latitude, longitude, height] = row.split(',');
    const cells = await joined(
      `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,24,121,3000\nB,${latitude ?? ''},${longitude ?? ''},${height ?? ''}\n`,
      system,
    );
    expect(Math.abs(Number(cells['ellipsoidal_distance_m']) - 2385.864)).toBeLessThan(6e-4);
    expect(Number(cells['ground_distance_m'])).toBeCloseTo(2386.987, 3);
  });

  it('counts bearings of a south-orientated grid from north and from south', async () => {
    const cells = await joined('point_id,westing_m,southing_m\nA,-31000,3482000\nB,-32000,3482000\n', 'EPSG:2049');
    // Westing grows more negative: the line runs east.
    expect([cells['grid_bearing_deg'], cells['grid_bearing_from_south_deg']]).toEqual([
      '90.000000000',
      '270.000000000',
    ]);
  });

  it('refuses a grid pair beside latitude and longitude of another frame, unless one is chosen', async () => {
    writeFileSync(
      join(folder, 'p.csv'),
      'point_id,westing_m,southing_m,latitude_deg,longitude_deg\nA,-31000,3482000,-31.46310,21.32620\nB,-32000,3482000,-31.46310,21.33670\n',
    );
    const words = ['join-points', 'p.csv', '--system', 'EPSG:2049', '--consecutive'];
    const refused = await runInProcess(words, { cwd: folder });
    expect(refused.exit).toBe(3);
    expect(refused.stderr).toContain('[position-mismatch]');
    const result = await runInProcess([...words, '--position-from', 'grid'], { cwd: folder });
    expect(result.stdout.toString('utf8')).toContain('A,B,1000.0000,90.000000000');
  });

  it('fills in the height of the other kind through a geoid', async () => {
    const points =
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,orthometric_height_m\nA,-31.5,21.4,1040,\nB,-31.51,21.41,,1020\n';
    const cells = await joined(points, 'EPSG:2049', ['--geoid', 'egm96']);
    const difference =
      Number(cells['ellipsoidal_height_difference_m']) - Number(cells['orthometric_height_difference_m']);
    // The geoid differs by centimetres over 1.5 km, and each height by its own N of some 30 m from the other.
    expect(Math.abs(difference)).toBeLessThan(0.2);
    expect(Math.abs(Number(cells['orthometric_height_difference_m']))).toBeLessThan(40);
    expect(cells['ground_distance_m']).not.toBe('');
  });
});
