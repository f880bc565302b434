import { describe, expect, it } from 'vitest';
import { egm96Like, openFixesOf, readFixesOf } from './foreign-fixes.js';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import type { ColumnMapping } from '../../../../src/records/settings/column-reading.js';
import { codes, value } from '../../support.js';

const HEAD = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m';
const at = (extra: string, cells: string): string => `${HEAD},${extra}\nA,-31.5,21.4,1043.2,${cells}\n`;

describe('cells in a unit of their own', () => {
  it.each([
    ['cm', '104320', 1043.2],
    ['mm', '1043200', 1043.2],
    // The international foot is 0.3048 m and the US survey foot 1200/3937 m exactly. [NIST-SP811] appendix B.6.
    ['ft', '3422.5722', 1043.2],
    ['usft', '3422.5653', 1043.2],
  ] as const)('reads a height in %s', async (unit, cell, heightM) => {
    const { fixes } = await readFixesOf(`point_id,latitude_deg,longitude_deg,H\nA,-31.5,21.4,${cell}\n`, {
      ellipsoidal_height_m: { headers: ['H'], unit },
    });
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(heightM, 4);
  });

  it('reads angles in gon, in degrees with a letter beside them, and run together', async () => {
    const { fixes } = await readFixesOf('id,la,ns,lo,ew,h\nA,313000.00,S,23.777777778,,1\n', {
      point_id: 'id',
      latitude_deg: { headers: ['la', 'ns'], unit: 'dms', form: 'DDMMSS' },
      longitude_deg: { headers: ['lo'], unit: 'gon' },
      ellipsoidal_height_m: 'h',
    });
    expect(fixes[0]?.geodetic.latitudeDeg).toBe(-31.5);
    expect(fixes[0]?.geodetic.longitudeDeg).toBeCloseTo(21.4, 8);
  });

  it('says the value as it stands in the file, with its unit, and where', async () => {
    const { rejected } = await readFixesOf(`point_id,latitude_deg,longitude_deg,H\nA,-31.5,21.4,400000\n`, {
      ellipsoidal_height_m: { headers: ['H'], unit: 'ft' },
    });
    expect(rejected[0]?.problems).toMatchObject([
      {
        code: 'value-out-of-range',
        message: '400000 ft is outside -12000..100000 m',
        received: '400000',
        where: { line: 2, field: 4, column: 'ellipsoidal_height_m' },
      },
    ]);
    const gon = await readFixesOf('point_id,latitude_deg,L,ellipsoidal_height_m\nA,-31.5,401,1\nB,-31.5,x,1\n', {
      longitude_deg: { headers: ['L'], unit: 'gon' },
    });
    expect(gon.rejected.flatMap(({ problems }) => problems.map(({ message }) => message))).toEqual([
      '401 gon is outside -180..360 deg',
      '"x" cannot be read as an angle in gon',
    ]);
  });

  it('halves the square of one figure for two axes, or takes it as it is said', async () => {
    const sigmas = async (means: 'per-axis' | 'drms' | '95'): Promise<unknown> => {
      const { fixes } = await readFixesOf(at('HRMS', '14.142135'), {
        sigma_horizontal_m: { headers: ['HRMS'], unit: 'mm', means },
      });
      return [fixes[0]?.sigmaEastM, fixes[0]?.sigmaNorthM].map((sigma) => Math.round((sigma ?? 0) * 1e6));
    };
    expect(await sigmas('drms')).toEqual([10_000, 10_000]);
    expect(await sigmas('per-axis')).toEqual([14_142, 14_142]);
    // The 95 % circle of a circular normal distribution has a radius of 2.4477 sigma: √χ²(0.95; 2).
    expect(await sigmas('95')).toEqual([5778, 5778]);
  });

  it('passes a header of the name through where nothing maps it', async () => {
    const input = value(await openFixesOf(at('sigma_horizontal_m', '0.01'), {}));
    expect(input.passThroughNames).toEqual(['sigma_horizontal_m']);
  });
});

describe('words and times of a file', () => {
  it('takes words of the file beside our own', async () => {
    const { fixes, rejected } = await readFixesOf(
      `${HEAD},Q\nA,-31.5,21.4,1,NARROW\nB,-31.5,21.4,1,float\nC,-31.5,21.4,1,WIDE\n`,
      { solution: { headers: ['Q'], words: { Narrow: 'fixed' } } },
    );
    expect(fixes.map(({ solution }) => solution)).toEqual(['fixed', 'float']);
    expect(rejected[0]?.problems[0]?.hint).toContain('solution = { header = "Q", words = { "WIDE" = "…" } }');
  });

  it('reads date and time of two columns in a zone, and GPS time', async () => {
    const local = await readFixesOf(`${HEAD},Date,Time\nA,-31.5,21.4,1,11.05.2026,08:00:01\n`, {
      epoch_utc: { headers: ['Date', 'Time'], form: 'DD.MM.YYYY HH:mm:ss', zone: '+02:00' },
    });
    const gps = await readFixesOf(`${HEAD},Time\nA,-31.5,21.4,1,2026-05-11T06:00:19\n`, {
      epoch_utc: { headers: ['Time'], scale: 'gps', leapSeconds: 18 },
    });
    const wanted = Date.UTC(2026, 4, 11, 6, 0, 1);
    expect([local.fixes[0]?.epochMs, gps.fixes[0]?.epochMs]).toEqual([wanted, wanted]);
    expect(
      (
        await openFixesOf(`${HEAD},Date,Time,x\nA,-31.5,21.4,1,1,2,3\n`, {
          epoch_utc: { headers: ['Date', 'Time'], form: 'DD.MM.YYYY HH:mm:ss', zone: 'Z' },
        })
      ).ok,
    ).toBe(true);
  });

  it('does not take a zone twice, and says the form that a time is not of', async () => {
    const { rejected } = await readFixesOf(`${HEAD},Time\nA,-31.5,21.4,1,2026-05-11T06:00:19Z\n`, {
      epoch_utc: { headers: ['Time'], zone: '+02:00' },
    });
    expect(rejected[0]?.problems[0]?.code).toBe('time-syntax');
    const form = await readFixesOf(`${HEAD},Time\nA,-31.5,21.4,1,11/05/2026 06:00\n`, {
      epoch_utc: { headers: ['Time'], form: 'DD.MM.YYYY HH:mm', zone: 'Z' },
    });
    expect(form.rejected[0]?.problems[0]?.message).toBe('"11/05/2026 06:00" is not of the form DD.MM.YYYY HH:mm');
  });
});

describe('what is said and does not go', () => {
  it.each<[string, ColumnMapping]>([
    ['a unit of angles for a length', { ellipsoidal_height_m: { headers: ['x'], unit: 'gon' } }],
    ['a unit of lengths for an angle', { latitude_deg: { headers: ['x'], unit: 'm' } }],
    ['a unit for a count', { satellites_used: { headers: ['x'], unit: 'm' } }],
    ['words for a number', { pdop: { headers: ['x'], words: { a: 'b' } } }],
    ['words that are none of ours', { solution: { headers: ['x'], words: { a: 'firm' } } }],
    ['two columns for a length', { ellipsoidal_height_m: { headers: ['x', 'point_id'] } }],
    ['a form that is none', { epoch_utc: { headers: ['x'], form: 'yyyy', zone: 'Z' } }],
    ['a form without a zone', { epoch_utc: { headers: ['x'], form: 'YYYY-MM-DD HH:mm' } }],
    ['GPS time without leap seconds', { epoch_utc: { headers: ['x'], scale: 'gps' } }],
    ['GPS weeks in UTC', { epoch_utc: { headers: ['x'], form: 'gps-week-seconds' } }],
    ['leap seconds of UTC', { epoch_utc: { headers: ['x'], zone: 'Z', leapSeconds: 18 } }],
    ['a zone that is none', { epoch_utc: { headers: ['x'], zone: 'CET' } }],
    ['one figure that says nothing', { sigma_horizontal_m: 'x' }],
    ['a meaning of one axis', { sigma_east_m: { headers: ['x'], means: 'drms' } }],
  ])('refuses %s', async (_, mapping) => {
    const names = Object.keys(mapping);
    const header = ['point_id', 'latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'].filter(
      (name) => !names.includes(name),
    );
    expect(codes(await openFixesOf(`${[...header, 'x'].join(',')}\n1,2,3,4,5\n`, mapping))).toContain(
      'config-invalid-value',
    );
  });

  it('refuses a unit that the header contradicts, and takes one that it says', async () => {
    const open = async (unit: 'ft' | 'm' | 'usft'): Promise<string[]> =>
      codes(
        await openFixesOf('point_id,latitude_deg,longitude_deg,H_ft\nA,1,2,3\n', {
          ellipsoidal_height_m: { headers: ['H_ft'], unit },
        }),
      );
    expect([await open('m'), await open('ft'), await open('usft')]).toEqual([['csv-header-contradicts'], [], []]);
  });

  it('refuses one figure for both axes beside that of one', async () => {
    expect(
      codes(await openFixesOf(at('sigma_east_m,x', '1,2'), { sigma_horizontal_m: { headers: ['x'], means: 'drms' } })),
    ).toEqual(['usage-conflict']);
  });
});

describe('fixes that are grid coordinates', () => {
  const grid = value(loadGridSystem('EPSG:32734'));
  const pair = { first: 0, second: 0 };
  grid.forward(-31.5, 21.4, pair);
  const cells = `${String(pair.first)},${String(pair.second)}`;

  it('are unprojected in the system that is said', async () => {
    const { fixes } = await readFixesOf(
      `point_id,E,N,ellipsoidal_height_m\nA,${cells},7\n`,
      { easting_m: 'E', northing_m: 'N' },
      { grid },
    );
    expect(fixes[0]?.geodetic.latitudeDeg).toBeCloseTo(-31.5, 11);
    expect(fixes[0]?.geodetic.longitudeDeg).toBeCloseTo(21.4, 11);
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBe(7);
  });

  it('pass through where latitude and longitude are there', async () => {
    const input = value(await openFixesOf(at('easting_m,northing_m', cells), {}, { grid }));
    expect(input.passThroughNames).toEqual(['easting_m', 'northing_m']);
  });

  it('are refused without a system, and where their axes are not its own', async () => {
    const text = `point_id,easting_m,northing_m,ellipsoidal_height_m\nA,${cells},7\n`;
    expect(codes(await openFixesOf(text, {}))).toEqual(['config-missing']);
    const south = value(loadGridSystem('EPSG:2049'));
    expect(codes(await openFixesOf(text, {}, { grid: south }))).toEqual(['csv-axes-mismatch']);
  });

  it('outside the projection are refused with their place', async () => {
    const { rejected } = await readFixesOf(
      `point_id,easting_m,northing_m,ellipsoidal_height_m\nA,1e9,1e9,7\n`,
      {},
      { grid },
    );
    expect(rejected[0]?.problems[0]).toMatchObject({ code: 'coordinate-outside-domain', where: { line: 2, field: 2 } });
  });
});

describe('a height above the geoid', () => {
  const text = 'point_id,latitude_deg,longitude_deg,H\nA,-31.5,21.4,1000\n';

  it('has the geoid height added', async () => {
    const { fixes } = await readFixesOf(text, { orthometric_height_m: 'H' }, { geoid: egm96Like(30.25) });
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBe(1030.25);
  });

  it('is refused without a geoid, and where the geoid has none', async () => {
    const without = await readFixesOf(text, { orthometric_height_m: 'H' });
    expect(without.rejected[0]?.problems[0]?.code).toBe('config-missing');
    const outside = await readFixesOf(text, { orthometric_height_m: 'H' }, { geoid: egm96Like(null) });
    expect(outside.rejected[0]?.problems[0]?.code).toBe('grid-outside');
  });
});
