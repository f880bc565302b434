import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import type { CsvTable } from '../../../../src/io/csv/csv-read.js';
import { readIsoSeries } from '../../../../src/io/tables/iso-series-read.js';
import { readLines } from '../../../../src/io/tables/network/lines-read.js';
import { readNetworkControl } from '../../../../src/io/tables/network/network-control-read.js';
import { readVectors } from '../../../../src/io/tables/network/vectors-read.js';
import { readPairs } from '../../../../src/io/tables/pairs-read.js';
import { readPolarLines } from '../../../../src/io/tables/polar-read.js';
import type { Outcome } from '../../../../src/records/outcome.js';
import { stdinSource, value } from '../../support.js';

// What a person reads off the few rows beside each expectation; ranges are those of docs/file-formats.md.
const table = async (text: string): Promise<CsvTable> => value(await readCsv(await stdinSource(text), DEFAULT_DIALECT));

type Read = (text: string) => Promise<Outcome<readonly unknown[]>>;
const vectors: Read = async (text) => readVectors(await table(text), 3, {});
const levelled: Read = async (text) => readLines(await table(text), 3, 'levelled');
const distances: Read = async (text) => readLines(await table(text), 3, 'distances');
const control: Read = async (text) => readNetworkControl(await table(text), 3, {}, ['easting_m', 'northing_m']);
const polar: Read = async (text) => readPolarLines(await table(text), 3);
const series: Read = async (text) => readIsoSeries(await table(text), {});

const rowsOf = async (read: Read, ...lines: readonly string[]): Promise<readonly unknown[]> =>
  value(await read(`${lines.join('\n')}\n`));
/** Code, column and line of each problem, with its message. */
const faults = async (read: Read, ...lines: readonly string[]): Promise<readonly string[]> => {
  const { problems } = await read(`${lines.join('\n')}\n`);
  return problems.map(
    ({ code, where, message }) => `${code} ${String(where?.column)} ${String(where?.line)}: ${message}`,
  );
};

/** Each range, as a header with a row in which `?` stands for the value: both ends are taken, and what lies beyond is not. */
const RANGES: readonly (readonly [
  Read,
  header: string,
  row: string,
  ends: readonly [number, number],
  beyond: readonly [number, number],
])[] = [
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,sigma_east_m,sigma_north_m,sigma_up_m',
    'A,B,?,1,1,0.1,0.1,0.1',
    [-2e7, 2e7],
    [-20000001, 20000001],
  ],
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,sigma_east_m,sigma_north_m,sigma_up_m',
    'A,B,1,?,1,0.1,0.1,0.1',
    [-2e7, 2e7],
    [-20000001, 20000001],
  ],
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,sigma_east_m,sigma_north_m,sigma_up_m',
    'A,B,1,1,?,0.1,0.1,0.1',
    [-2e7, 2e7],
    [-20000001, 20000001],
  ],
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,sigma_east_m,sigma_north_m,sigma_up_m',
    'A,B,1,1,1,?,0.1,0.1',
    [1e-6, 1000],
    [9e-7, 1000.1],
  ],
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,sigma_east_m,sigma_north_m,sigma_up_m,correlation_en',
    'A,B,1,1,1,1,1,1,?',
    [-0.9999, 0.9999],
    [-0.99991, 0.99991],
  ],
  [
    vectors,
    'from_id,to_id,dx_m,dy_m,dz_m,cov_xx_m2,cov_xy_m2,cov_xz_m2,cov_yy_m2,cov_yz_m2,cov_zz_m2',
    'A,B,1,1,1,?,0,0,1,0,1',
    [1e-6, 1e6],
    [-1, 1000001],
  ],
  [
    levelled,
    'from_id,to_id,orthometric_height_difference_m,sigma_m',
    'A,B,?,0.1',
    [-10000, 10000],
    [-10000.1, 10000.1],
  ],
  [levelled, 'from_id,to_id,orthometric_height_difference_m,sigma_m', 'A,B,1,?', [1e-5, 100], [9e-6, 100.1]],
  [distances, 'from_id,to_id,slope_distance_m,sigma_m', 'A,B,?,0.1', [0.1, 100000], [0.09, 100000.1]],
  [distances, 'from_id,to_id,slope_distance_m,sigma_m,instrument_height_m', 'A,B,1,1,?', [-10, 100], [-10.1, 100.1]],
  [distances, 'from_id,to_id,slope_distance_m,sigma_m,target_height_m', 'A,B,1,1,?', [-10, 100], [-10.1, 100.1]],
  [distances, 'from_id,to_id,slope_distance_m,sigma_m,zenith_deg', 'A,B,1,1,?', [0, 180], [-0.1, 180.1]],
  [control, 'point_id,x_m,y_m,z_m', 'A,?,1,1', [-1e8, 1e8], [-100000001, 100000001]],
  [control, 'point_id,x_m,y_m,z_m', 'A,1,?,1', [-1e8, 1e8], [-100000001, 100000001]],
  [control, 'point_id,x_m,y_m,z_m', 'A,1,1,?', [-1e8, 1e8], [-100000001, 100000001]],
  [control, 'point_id,easting_m,northing_m,orthometric_height_m', 'A,?,1,1', [-1e9, 1e9], [-1000000001, 1000000001]],
  [control, 'point_id,easting_m,northing_m,orthometric_height_m', 'A,1,?,1', [-1e9, 1e9], [-1000000001, 1000000001]],
  [control, 'point_id,orthometric_height_m', 'A,?', [-12000, 100000], [-12000.1, 100000.1]],
  [control, 'point_id,orthometric_height_m,sigma_horizontal_m', 'A,1,?', [0, 1e6], [-0.1, 1000001]],
  [control, 'point_id,orthometric_height_m,sigma_vertical_m', 'A,1,?', [0, 1e6], [-0.1, 1000001]],
  [polar, 'point_id,from_id,azimuth_deg,distance_m,distance_kind', 'P,F,?,1,grid', [-360, 360], [-360.1, 360.1]],
  [polar, 'point_id,from_id,grid_bearing_deg,distance_m,distance_kind', 'P,F,?,1,grid', [-360, 360], [-360.1, 360.1]],
  [
    polar,
    'point_id,from_id,grid_bearing_from_south_deg,distance_m,distance_kind',
    'P,F,?,1,grid',
    [-360, 360],
    [-360.1, 360.1],
  ],
  [
    polar,
    'point_id,from_id,azimuth_deg,distance_m,distance_kind,ellipsoidal_height_difference_m',
    'P,F,1,1,slope,?',
    [-12000, 12000],
    [-12000.1, 12000.1],
  ],
  [series, 'series,set,point,easting_m,northing_m,orthometric_height_m', '?,1,1,1,1,1', [1, 1000], [0, 1001]],
  [series, 'series,set,point,easting_m,northing_m,orthometric_height_m', '1,?,1,1,1,1', [1, 1000], [0, 1001]],
  [series, 'series,set,point,easting_m,northing_m,orthometric_height_m', '1,1,?,1,1,1', [1, 2], [0, 3]],
  ...(
    [
      ['temperature_c', [-60, 70], [-60.1, 70.1]],
      ['pressure_hpa', [300, 1200], [299.9, 1200.1]],
      ['humidity_percent', [0, 100], [-0.1, 100.1]],
      ['wet_bulb_c', [-60, 70], [-60.1, 70.1]],
      ['carrier_wavelength_um', [0.3, 2], [0.29, 2.01]],
      ['reference_refractive_index', [1.0001, 1.0006], [1.00009, 1.00061]],
    ] as const
  ).map(([name, ends, beyond]) => {
    const cells = {
      ...{ temperature_c: '12', pressure_hpa: '950', carrier_wavelength_um: '0.85' },
      ...{ reference_refractive_index: '1.0003' },
      ...(name === 'wet_bulb_c' ? { wet_bulb_c: '?' } : { humidity_percent: '60' }),
      [name]: '?',
    };
    const header = `from_id,to_id,slope_distance_m,sigma_m,${Object.keys(cells).join()}`;
    return [distances, header, `A,B,1,1,${Object.values(cells).join()}`, ends, beyond] as const;
  }),
];

describe('ranges of the small tables', () => {
  it.each(RANGES.map(([read, header, row, ends, beyond]) => ({ read, header, row, ends, beyond })))(
    '$header: $row within $ends',
    async ({ read, header, row, ends, beyond }) => {
      for (const end of ends) expect(await faults(read, header, row.replace('?', String(end)))).toEqual([]);
      for (const end of beyond)
        expect(await faults(read, header, row.replace('?', String(end))), String(end)).toEqual([
          expect.stringMatching(/^value-out-of-range .* 2: /u),
        ]);
    },
  );
});

describe('readVectors', () => {
  const HEADER = 'from_id,to_id,dx_m,dy_m,dz_m';
  const ROW = {
    fromId: 'A',
    toId: 'B',
    dxM: 1,
    dyM: -2,
    dzM: 3.5,
    baseSetup: '',
    day: '',
    place: { sourceIndex: 3, line: 2 },
  };

  it('reads a vector with either covariance, its set-up and its day', async () => {
    expect(
      await rowsOf(
        vectors,
        `${HEADER},cov_xx_m2,cov_xy_m2,cov_xz_m2,cov_yy_m2,cov_yz_m2,cov_zz_m2`,
        'A,B,1,-2,3.5,4,1,2,5,3,6',
      ),
    ).toEqual([{ ...ROW, geocentric: { xx: 4, xy: 1, xz: 2, yy: 5, yz: 3, zz: 6 }, local: null }]);
    const local = { sigmaEastM: 0.01, sigmaNorthM: 0.02, sigmaUpM: 0.03, correlationEn: 0 };
    const sigmas = `${HEADER},sigma_east_m,sigma_north_m,sigma_up_m`;
    expect(await rowsOf(vectors, sigmas, 'A,B,1,-2,3.5,0.01,0.02,0.03')).toEqual([{ ...ROW, geocentric: null, local }]);
    expect(
      await rowsOf(vectors, `${sigmas},correlation_en,base_setup,day`, 'A,B,1,-2,3.5,0.01,0.02,0.03,-0.5, S1 , mon '),
    ).toEqual([{ ...ROW, geocentric: null, local: { ...local, correlationEn: -0.5 }, baseSetup: 'S1', day: 'mon' }]);
  });

  it('refuses what is no covariance: by its variances, its planes or the whole', async () => {
    const of = (cells: string): Promise<readonly string[]> =>
      faults(vectors, `${HEADER},cov_xx_m2,cov_xy_m2,cov_xz_m2,cov_yy_m2,cov_yz_m2,cov_zz_m2`, `A,B,1,1,1,${cells}`);
    const refused = ['value-out-of-range cov_xx_m2 2: the covariance is not positive definite'];
    expect(await of('4,1,2,5,3,6')).toEqual([]);
    expect(await of('-4,0,0,-5,0,6')).toEqual(refused);
    expect(await of('4,5,0,5,0,6')).toEqual(refused);
    expect(await of('4,0,0,5,0,-6')).toEqual(refused);
    // Each plane holds, and the whole does not: of three correlations of 0.9, 0.9 and −0.9 no points can be.
    expect(await of('1,0.9,0.9,1,-0.9,1')).toEqual(refused);
    expect(await of('1,0.9,0.9,1,0.9,1')).toEqual([]);
  });

  it('refuses a vector to itself', async () => {
    expect(await faults(vectors, `${HEADER},sigma_east_m,sigma_north_m,sigma_up_m`, 'A,A,1,1,1,1,1,1')).toEqual([
      'value-out-of-range to_id 2: the vector goes from A to itself',
    ]);
  });
});

describe('readLines', () => {
  const AIR = 'temperature_c,pressure_hpa,humidity_percent,wet_bulb_c,carrier_wavelength_um,reference_refractive_index';
  const HEADER = `from_id,to_id,slope_distance_m,sigma_m,instrument_height_m,target_height_m,zenith_deg,${AIR}`;
  const line = { fromId: 'A', toId: 'B', valueM: 812.5, sigmaM: 0.002, place: { sourceIndex: 3, line: 2 } };

  it('reads heights of both ends, the zenith angle and the air, or none of them', async () => {
    expect(await rowsOf(distances, HEADER, 'A,B,812.5,0.002,1.5,1.7,89.5,12,950,60,,0.85,1.00028')).toEqual([
      {
        ...line,
        ...{ fromUpM: 1.5, toUpM: 1.7, zenithDeg: 89.5 },
        air: {
          temperatureC: 12,
          pressureHpa: 950,
          vapour: { humidityPercent: 60 },
          wavelengthUm: 0.85,
          referenceIndex: 1.00028,
        },
      },
    ]);
    expect(await rowsOf(distances, HEADER, 'A,B,812.5,0.002,,,,12,950,,9,0.85,1.00028')).toMatchObject([
      { fromUpM: 0, toUpM: 0, zenithDeg: null, air: { vapour: { wetBulbC: 9 } } },
    ]);
    expect(await rowsOf(distances, HEADER, 'A,B,812.5,0.002,,,,,,,,,')).toEqual([
      { ...line, fromUpM: 0, toUpM: 0, zenithDeg: null, air: null },
    ]);
    expect(
      await rowsOf(levelled, 'from_id,to_id,orthometric_height_difference_m,sigma_m', 'A,B,-1.25,0.001'),
    ).toMatchObject([{ fromId: 'A', toId: 'B', valueM: -1.25, sigmaM: 0.001, air: null }]);
  });

  it('refuses an air that is stated in part, whatever is missing, and both measures of the vapour', async () => {
    const whole = ['12', '950', '60', '', '0.85', '1.00028'];
    const partly = [0, 1, 2, 4, 5].map((without) => whole.map((cell, index) => (index === without ? '' : cell)));
    const alone = [0, 1, 2, 4, 5].map((only) => whole.map((cell, index) => (index === only ? cell : '')));
    for (const cells of [...partly, ...alone, ['12', '950', '60', '9', '0.85', '1.00028']])
      expect(await faults(distances, HEADER, `A,B,812.5,0.002,,,,${cells.join()}`), cells.join()).toEqual([
        'value-missing slope_distance_m 2: the air of the line is stated in part',
      ]);
    expect(await faults(distances, HEADER, 'A,A,812.5,0.002,,,,,,,,,')).toEqual([
      'value-out-of-range to_id 2: the line goes from A to itself',
    ]);
  });
});

describe('readNetworkControl', () => {
  const blank = {
    ...{ geocentric: null, gridFirst: null, gridSecond: null, latitudeDeg: null, longitudeDeg: null },
    ...{ ellipsoidalHeightM: null, orthometricHeightM: null, sigmaHorizontalM: null, sigmaVerticalM: null, held: null },
  };
  const HEADER =
    'point_id,x_m,y_m,z_m,easting_m,northing_m,latitude_deg,longitude_deg,ellipsoidal_height_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,held';

  it('reads every form of a place, with half a unit of its last digit', async () => {
    expect(
      await rowsOf(
        control,
        HEADER,
        'X,1.5,2.25,3,,,,,,,0.01,0.02,weighted',
        'G,,,,10.1,20.25,,,5.5,,,,fixed',
        'L,,,,,,-31.5,21.25,,7.125,,,plan',
        'H,,,,,,,,,8.5,,,height',
      ),
    ).toEqual([
      {
        ...blank,
        ...{ pointId: 'X', geocentric: { xM: 1.5, yM: 2.25, zM: 3 }, sigmaHorizontalM: 0.01, sigmaVerticalM: 0.02 },
        ...{ held: 'weighted', place: { sourceIndex: 3, line: 2 } },
        roundings: { geocentricM: 0.5, gridUnits: 0, angleDeg: 0, heightM: 0 },
      },
      {
        ...blank,
        ...{ pointId: 'G', gridFirst: 10.1, gridSecond: 20.25, ellipsoidalHeightM: 5.5, held: 'fixed' },
        place: { sourceIndex: 3, line: 3 },
        roundings: { geocentricM: 0, gridUnits: 0.05, angleDeg: 0, heightM: 0.05 },
      },
      {
        ...blank,
        ...{ pointId: 'L', latitudeDeg: -31.5, longitudeDeg: 21.25, orthometricHeightM: 7.125, held: 'plan' },
        place: { sourceIndex: 3, line: 4 },
        roundings: { geocentricM: 0, gridUnits: 0, angleDeg: 0.05, heightM: 0 },
      },
      {
        ...blank,
        ...{ pointId: 'H', orthometricHeightM: 8.5, held: 'height', place: { sourceIndex: 3, line: 5 } },
        roundings: { geocentricM: 0, gridUnits: 0, angleDeg: 0, heightM: 0 },
      },
    ]);
  });

  it('refuses a part of a place, none, one without a height, and a name that is there twice', async () => {
    const of = async (...rows: readonly string[]): Promise<readonly string[]> => faults(control, HEADER, ...rows);
    const part = ['value-missing point_id 2: A has only a part of a place'];
    for (const row of ['A,1,2,,,,,,,,,,', 'A,,,,1,,,,5,,,,', 'A,,,,,1,,,5,,,,', 'A,,,,,,1,,5,,,,', 'A,,,,,,,1,,5,,,'])
      expect(await of(row), row).toEqual(part);
    for (const row of ['A,,,,1,2,,,,,,,', 'A,,,,,,1,2,,,,,'])
      expect(await of(row), row).toEqual(['value-missing point_id 2: A has no height']);
    expect(await of('A,,,,,,,,5,,,,')).toEqual(['value-missing point_id 2: A has no place']);
    expect(await of('A,,,,,,,,,5,,,', 'A,,,,,,,,,6,,,')).toEqual(['value-duplicate-id point_id 3: A is there twice']);
  });
});

describe('readPolarLines, readPairs and readIsoSeries', () => {
  const HEADER =
    'point_id,from_id,azimuth_deg,grid_bearing_deg,grid_bearing_from_south_deg,distance_m,distance_kind,ellipsoidal_height_difference_m';

  it('read a direction in any of its three forms, one a row', async () => {
    const line = {
      pointId: 'P',
      fromId: 'F',
      azimuthDeg: null,
      gridBearingDeg: null,
      distanceM: 100,
      heightDifferenceM: null,
    };
    expect(
      await rowsOf(polar, HEADER, 'P,F,10,,,100,grid,', 'P,F,,20,,100,ellipsoidal,', 'P,F,,,30,100,slope,-2.5'),
    ).toEqual([
      { ...line, azimuthDeg: 10, distanceKind: 'grid', place: { sourceIndex: 3, line: 2 } },
      { ...line, gridBearingDeg: 20, distanceKind: 'ellipsoidal', place: { sourceIndex: 3, line: 3 } },
      {
        ...line,
        gridBearingDeg: 210,
        distanceKind: 'slope',
        heightDifferenceM: -2.5,
        place: { sourceIndex: 3, line: 4 },
      },
    ]);
    expect(await faults(polar, HEADER, 'P,F,,,,100,grid,', 'P,F,1,2,,100,grid,', 'P,F,,2,3,100,grid,')).toEqual([
      'value-missing azimuth_deg 2: the row has no direction',
      'value-out-of-range grid_bearing_deg 3: the row has two directions, azimuth_deg and grid_bearing_deg',
      'value-out-of-range grid_bearing_from_south_deg 4: the row has two directions, grid_bearing_deg and grid_bearing_from_south_deg',
    ]);
  });

  it('read pairs by their place in the inputs', async () => {
    expect(value(await readPairs(await table('from_id,to_id\nA,B@2\n'), 4))).toEqual([
      { fromId: 'A', toId: 'B@2', place: { sourceIndex: 4, line: 2 } },
    ]);
  });

  it('read sets in metres, whatever the unit of the grid, and refuse a point twice', async () => {
    expect(
      await rowsOf(
        series,
        'series,set,point,easting_m,northing_m,orthometric_height_m',
        '1,2,1,10,20,5',
        '1,2,2,11,21,6',
      ),
    ).toEqual([
      { series: 1, set: 2, point: 1, xM: 10, yM: 20, heightM: 5 },
      { series: 1, set: 2, point: 2, xM: 11, yM: 21, heightM: 6 },
    ]);
    // The international foot is 0.3048 m by definition.
    expect(
      await rowsOf(
        series,
        'series,set,point,easting_international_ft,northing_international_ft,ellipsoidal_height_m',
        '1,1,1,10,20,5',
      ),
    ).toEqual([{ series: 1, set: 1, point: 1, xM: 3.048, yM: 6.096, heightM: 5 }]);
    expect(
      await faults(
        series,
        'series,set,point,easting_m,northing_m,orthometric_height_m',
        '1,2,1,10,20,5',
        '1,3,1,1,1,1',
        '1,2,1,1,1,1',
      ),
    ).toEqual(['value-duplicate-id point 4: point 1 of set 2 in series 1 is there twice']);
    // Clarke's foot is 0.3047972654 m. Source: EPSG-DB, unit 9005. A foot of no name could be any.
    expect(
      await rowsOf(
        series,
        'series,set,point,easting_clarkes_foot,northing_clarkes_foot,ellipsoidal_height_m',
        '1,1,1,10,20,5',
      ),
    ).toMatchObject([{ xM: 3.047972654, yM: 6.095945308 }]);
    expect(
      await faults(series, 'series,set,point,easting_ft,northing_ft,ellipsoidal_height_m', '1,1,1,10,20,5'),
    ).toEqual([
      'csv-axes-mismatch undefined 1: the grid columns are easting_ft, northing_ft, in a unit that is not known by this name',
    ]);
    expect(await faults(series, 'series,set,point,orthometric_height_m', '1,2,1,5')).toEqual([
      'csv-missing-column undefined 1: there is no pair of grid columns',
    ]);
  });
});
