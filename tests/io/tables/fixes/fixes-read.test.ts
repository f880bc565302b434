import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import type { CsvDialect } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import { readFixes } from '../../../../src/io/tables/fixes/fixes-read.js';
import type { RejectedRow } from '../../../../src/io/tables/columns/row-loop.js';
import type { FixInput } from '../../../../src/io/tables/fixes/fixes-read.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import type { Problem } from '../../../../src/records/problem.js';
import { stdinSource, value } from '../../support.js';

const HEAD = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m';

async function open(
  text: string,
  mapping: Record<string, string> = {},
  dialect: Partial<CsvDialect> = {},
): Promise<FixInput> {
  const table = value(await readCsv(await stdinSource(text), { ...DEFAULT_DIALECT, ...dialect }));
  const toGeodetic = (): Fix['geodetic'] => ({ latitudeDeg: 1, longitudeDeg: 2, ellipsoidalHeightM: 3 });
  return value(readFixes(table, { sourceIndex: 0, mapping, toGeodetic }));
}

async function read(...args: Parameters<typeof open>): Promise<{ fixes: Fix[]; rejected: RejectedRow[] }> {
  const fixes: Fix[] = [];
  const rejected: RejectedRow[] = [];
  for await (const block of (await open(...args)).blocks()) {
    fixes.push(...value(block).fixes);
    rejected.push(...value(block).rejected);
  }
  return { fixes, rejected };
}

/** The only problem of the only row. */
async function problemOf(columns: string, cells: string, dialect: Partial<CsvDialect> = {}): Promise<Problem> {
  const { fixes, rejected } = await read(`${columns}\n${cells}\n`, {}, dialect);
  expect(fixes).toEqual([]);
  const problems = rejected[0]?.problems ?? [];
  expect(problems).toHaveLength(1);
  return problems[0] as Problem;
}

describe('readFixes', () => {
  it('reads every column, with empty cells as unknown', async () => {
    const columns = `${HEAD},code,epoch_utc,reference_point,solution,correction_age_s,satellites_used,pdop,hdop,vdop,sigma_east_m,sigma_north_m,sigma_up_m,correlation_en,base_id,pole_length_m,tilt_deg,tilt_azimuth_deg,epoch_count,note,crew`;
    const { fixes } = await read(
      `${columns}\n007,-31.5,21.4,1043.2,PEG,2026-03-04T06:00:01.5Z,arp,4,1.5,18,1.4,0.8,1.1,0.008,0.009,0.02,-0.3,B1,2.000,3.5,120,30,"by the gate, left", x \nA,-31.5,21.4,1043.2${','.repeat(20)}\n`,
    );
    expect(fixes[0]).toEqual({
      pointId: '007',
      code: 'PEG',
      epochMs: Date.UTC(2026, 2, 4, 6, 0, 1, 500),
      geodetic: { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 },
      geocentric: null,
      referencePoint: 'arp',
      solution: 'fixed',
      correctionAgeS: 1.5,
      satellitesUsed: 18,
      pdop: 1.4,
      hdop: 0.8,
      vdop: 1.1,
      sigmaEastM: 0.008,
      sigmaNorthM: 0.009,
      sigmaUpM: 0.02,
      correlationEn: -0.3,
      baseId: 'B1',
      poleLengthM: 2,
      tiltDeg: 3.5,
      tiltAzimuthDeg: 120,
      epochCount: 30,
      note: 'by the gate, left',
      passThrough: ['by the gate, left', ' x '],
      place: { sourceIndex: 0, line: 2 },
    });
    expect(fixes[1]).toMatchObject({
      epochMs: null,
      solution: null,
      pdop: null,
      poleLengthM: null,
      epochCount: 1,
      note: '',
      passThrough: ['', ''],
    });
  });

  // A lean is measured from the vertical: 0 is plumb and 90 lies on the ground; beyond it the tip would be above the top.
  it('takes a tilt from 0 to 90 degrees and no other', async () => {
    const { fixes } = await read(`${HEAD},tilt_deg,tilt_azimuth_deg\nA,1,2,3,0,0\nB,1,2,3,90,0\n`);
    expect(fixes.map(({ tiltDeg }) => tiltDeg)).toEqual([0, 90]);
    for (const tilt of ['-0.001', '90.001', '-5', '120'])
      expect(await problemOf(`${HEAD},tilt_deg,tilt_azimuth_deg`, `A,1,2,3,${tilt},0`)).toMatchObject({
        code: 'value-out-of-range',
        where: { line: 2 },
      });
  });

  it('gives back the row of a fix as it stood, and nothing for a fix of another file', async () => {
    const input = await open(`${HEAD},note\nA,1,2,3, x \nB,1,2,3,"a, ""b"""\n`);
    for await (const block of input.blocks()) {
      const { fixes, rawOf } = value(block);
      expect(fixes.map(rawOf)).toEqual(['A,1,2,3, x ', 'B,1,2,3,"a, ""b"""']);
      expect(rawOf({ ...(fixes[0] as Fix), place: { sourceIndex: 1, line: 2 } })).toBe('');
      expect(rawOf({ ...(fixes[0] as Fix), place: { sourceIndex: 0, line: 9 } })).toBe('');
    }
  });

  it('reads geocentric positions and converts them by the function given', async () => {
    const { fixes } = await read('point_id,x_m,y_m,z_m\nA,5000000,2000000,-3400000\n');
    expect(fixes[0]).toMatchObject({
      geocentric: { xM: 5_000_000, yM: 2_000_000, zM: -3_400_000 },
      geodetic: { latitudeDeg: 1 },
    });
    expect(await problemOf('point_id,x_m,y_m,z_m', 'A,5000,2000,-3400')).toMatchObject({
      code: 'coordinate-implausible',
    });
  });

  it('reads angles in degrees, minutes and seconds and longitudes east of 180', async () => {
    const { fixes } = await read(`${HEAD}\nA,"25°43'55.302""S",-25:43:55.302,1\nB,1,200,1\n`);
    expect(fixes[0]?.geodetic.latitudeDeg).toBeCloseTo(-(25 + 43 / 60 + 55.302 / 3600), 12);
    expect(fixes[0]?.geodetic.longitudeDeg).toBeCloseTo(-(25 + 43 / 60 + 55.302 / 3600), 12);
    expect(fixes[1]?.geodetic.longitudeDeg).toBe(-160);
  });

  it('keeps going past bad rows, gives them back verbatim, and counts their lines and records', async () => {
    const { fixes, rejected } = await read(`${HEAD},note\nA,1,2,3,"two\nlines"\n"B",x,2,3,n\nC,1,2,3,n\nD,1,2,3\n`);
    expect(fixes.map((fix) => [fix.pointId, fix.place.line])).toEqual([
      ['A', 2],
      ['C', 5],
    ]);
    expect(rejected.map((row) => [row.line, row.raw])).toEqual([
      [4, '"B",x,2,3,n'],
      [6, 'D,1,2,3'],
    ]);
    expect(rejected[0]?.problems[0]?.where).toEqual({
      source: 'stdin',
      line: 4,
      record: 2,
      field: 2,
      column: 'latitude_deg',
    });
    expect(rejected[1]?.problems[0]?.code).toBe('csv-row-length');
  });

  it('reports every bad cell of a row', async () => {
    const { rejected } = await read(`${HEAD}\n,91,2,x\n`);
    expect(rejected[0]?.problems.map((problem) => problem.code).sort()).toEqual([
      'latitude-out-of-range',
      'value-missing',
      'value-not-a-number',
    ]);
  });

  it.each([
    ['latitude_deg', 'A,95.2,120,1', 'latitude-out-of-range'],
    ['latitude_deg', 'A,95.2,21.4,1', 'latitude-out-of-range'],
    ['longitude_deg', 'A,-31,361,1', 'longitude-out-of-range'],
    ['latitude_deg', 'A,121.4,-31.5,1', 'coordinates-swapped'],
    ['latitude_deg', 'A,,2,1', 'value-missing'],
    ['latitude_deg', "A,12 o'clock,2,1", 'angle-syntax'],
    ['ellipsoidal_height_m', 'A,1,2,0x10', 'value-not-a-number'],
    ['ellipsoidal_height_m', 'A,1,2,1 234.5', 'value-ambiguous-number'],
    ['ellipsoidal_height_m', 'A,1,2,1e7', 'value-out-of-range'],
    ['point_id', 'A\u0007,1,2,3', 'value-invalid-id'],
  ])('refuses %s of %s as %s', async (column, cells, code) => {
    expect(await problemOf(HEAD, cells)).toMatchObject({ code, where: { column, line: 2 } });
  });

  it.each([
    ['epoch_utc', '2026-03-04T06:00:00', 'time-without-zone'],
    ['epoch_utc', '04/03/2026', 'time-syntax'],
    ['solution', 'fixd', 'value-unknown-word'],
    ['reference_point', 'mark', 'value-unknown-word'],
    ['satellites_used', '7.5', 'value-out-of-range'],
    ['sigma_up_m', '-0.1', 'value-out-of-range'],
    ['correlation_en', '1.2', 'value-out-of-range'],
    ['epoch_count', '0', 'value-out-of-range'],
  ])('refuses %s of %s as %s', async (column, cell, code) => {
    expect(await problemOf(`${HEAD},${column}`, `A,1,2,3,${cell}`)).toMatchObject({
      code,
      where: { column, field: 5 },
    });
  });

  // Common practice, no published source.
  it.each([
    ['fixed', ['fixed', 'Fix', 'RTK Fixed', 'RTK-FIX', 'rtk_fixed', 'INTEGER', '4']],
    ['float', ['Float', 'RTK Float', 'floating', '5']],
    ['differential', ['Differential', 'DGPS', 'dgnss', '2']],
    ['autonomous', ['autonomous', 'Single', 'stand-alone', 'Standalone', '1']],
  ])('knows what the trade writes for %s', async (solution, words) => {
    const rows = words.map((word, index) => `A${String(index)},1,2,3,${word}`).join('\n');
    const { fixes, rejected } = await read(`${HEAD},solution\n${rows}\n`);
    expect(rejected).toEqual([]);
    expect(fixes.map((fix) => fix.solution)).toEqual(words.map(() => solution));
  });

  it('does not guess what says nothing of the solution', async () => {
    for (const word of ['rtk', '3D', '0', '3', 'none', 'ok'])
      expect((await problemOf(`${HEAD},solution`, `A,1,2,3,${word}`)).code, word).toBe('value-unknown-word');
  });

  it('suggests the word meant, and the option for a decimal comma', async () => {
    expect((await problemOf(`${HEAD},solution`, 'A,1,2,3,fixd')).hint).toBe(
      'did you mean fixed? else say what it stands for in the session, under [columns]: solution = { header = "solution", words = { "fixd" = "fixed" } }',
    );
    expect((await problemOf(HEAD, 'A,1,2,"1,5"')).hint).toContain('--decimal-comma');
    expect((await problemOf(HEAD, 'A,1,2,"1,234"')).code).toBe('value-ambiguous-number');
  });

  it('reads decimal commas on request', async () => {
    const { fixes } = await read(
      `${HEAD.replaceAll(',', ';')}\nA;-31,5;21,4;1043,25\n`,
      {},
      { delimiter: ';', decimalComma: true },
    );
    expect(fixes[0]?.geodetic).toEqual({ latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.25 });
    expect((await problemOf(HEAD.replaceAll(',', ';'), 'A;1;2;3.5', { delimiter: ';', decimalComma: true })).code).toBe(
      'value-not-a-number',
    );
  });

  it('needs an azimuth with a tilt, and none with a tilt of zero', async () => {
    expect(await problemOf(`${HEAD},tilt_deg`, 'A,1,2,3,5')).toMatchObject({ code: 'tilt-azimuth-missing' });
    expect((await read(`${HEAD},tilt_deg\nA,1,2,3,0\n`)).fixes).toHaveLength(1);
  });

  it('names the columns that pass through', async () => {
    expect((await open(`crew,${HEAD},"odd ""name"""\nx,A,1,2,3,y\n`)).passThroughNames).toEqual(['crew', 'odd "name"']);
  });
});
