// The sound inputs that damage starts from: small, invented, one of every kind that Pegbook reads.
import { Buffer } from 'node:buffer';
import { readFileSync } from 'node:fs';
import { mutateBinary, mutateBytes, mutateJson, mutateNmea, mutateTable, mutateText, sentence } from './mutate.mjs';
import { geoidCsvBytes, gtxBytes, isgBytes, ntv2Bytes, tiffGridBytes } from './small-grids.mjs';
import { structuredIsg, structuredNtv2, structuredTiff } from './structured-grids.mjs';

const text = (lines) => Buffer.from(`${lines.join('\n')}\n`);

const SESSION = [
  'version = 1',
  'title = "Invented"',
  '[system]',
  'grid = "EPSG:2049"',
  'epoch_year = 2026.17',
  '[height]',
  'geoid = "geoid.csv"',
  'interpolation = "bilinear"',
  'sigma_m = 0.02',
  '[rover]',
  'reference_point = "apc"',
  'phase_centre_offset_m = 0.07',
  'pole_length_m = 2.000',
  'pole_sigma_m = 0.001',
  'plumb_sigma_deg = 0.1',
  'tilt_sigma_deg = 0.3',
  'tilt_azimuth_sigma_deg = 1.0',
  'tilt_azimuth = "top-from-tip"',
  '[[base]]',
  'id = "B1"',
  'from_utc = "2026-03-04T04:30:00Z"',
  'to_utc = "2026-03-04T16:00:00Z"',
  'broadcast = { latitude_deg = -31.5000101, longitude_deg = 21.400013787, ellipsoidal_height_m = 1044.51, at = "arp" }',
  'known = { westing_m = -38001.0713, southing_m = 3486480.5369, ellipsoidal_height_m = 1041.8808, at = "mark" }',
  'antenna_height_m = 1.6',
  'antenna_height_kind = "vertical"',
  'sigma_horizontal_m = 0.008',
  'sigma_vertical_m = 0.012',
  '[acceptance]',
  'solution = ["fixed"]',
  'max_pdop = 4',
  'max_correction_age_s = 10',
  'min_satellites = 6',
  'max_tilt_deg = 30',
  'max_baseline_m = 60000',
  'min_epochs = 2',
  'min_duration_s = 0',
  'max_sigma_horizontal_m = 0.05',
  'max_sigma_vertical_m = 0.08',
  '[precision]',
  'conditions = "normal"',
  '[tolerance]',
  'horizontal_m = 0.05',
  'vertical_m = 0.10',
];

const FIXES = [
  'point_id,code,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,sigma_east_m,sigma_north_m,sigma_up_m,base_id,pole_length_m,tilt_deg,tilt_azimuth_deg,note',
];
for (const [index, [point, latitude, longitude]] of [
  ['A-1', -31.50146, 21.40143],
  ['A-2', -31.6, 21.5],
  ['A-1', -31.50146, 21.40143],
].entries()) {
  for (let i = 0; i < 4; i += 1) {
    FIXES.push(
      `${point},peg,2026-03-04T05:1${index}:0${i}Z,${(latitude + 1e-8 * i).toFixed(9)},${longitude.toFixed(9)},104${3 + index}.${i}265,fixed,1.${i},15,1.65,0.003,0.003,0.006,B1,2.000,${i === 2 ? '5.0,120.0' : ','},dry`,
    );
  }
}

// Thirteen points, each stood on for three epochs in three rounds of two hours, one of them a decimetre off.
const STANDS = [FIXES[0]];
for (let epoch = 0; epoch < 117; epoch += 1) {
  const stand = Math.floor(epoch / 3);
  const [point, round] = [stand % 13, Math.floor(stand / 13)];
  const off = stand === 30 ? 9e-7 : 1e-8 * ((stand * 7) % 11) + 1e-9 * (epoch % 3);
  STANDS.push(
    `R-${point},peg,2026-03-04T0${5 + 2 * round}:${String(10 + point)}:0${epoch % 3}Z,${(-31.5 - 0.004 * point + off).toFixed(9)},${(21.4 + 0.003 * point - off).toFixed(9)},${(1040 + point + 1e5 * off).toFixed(4)},fixed,1.${round},15,1.65,0.003,0.003,0.006,B1,2.000,${stand === 17 ? '5.0,120.0' : ','},${stand % 5 === 0 ? 'dry' : ''}`,
  );
}

const feature = (id, lon, lat, h) => ({
  type: 'Feature',
  id,
  geometry: { type: 'Point', coordinates: [lon, lat, h] },
  properties: {
    epoch_utc: '2026-03-04T05:00:00Z',
    solution: 'fixed',
    pole_length_m: 2,
    reference_point: 'arp',
    satellites_used: 15,
    correction_age_s: 1,
    pdop: 1.5,
    sigma_east_m: 0.003,
    sigma_north_m: 0.003,
    sigma_up_m: 0.006,
    base_id: 'B1',
    note: 'dry',
  },
});
const GEOJSON = Buffer.from(
  JSON.stringify({
    type: 'FeatureCollection',
    features: [
      feature('A-1', 21.40143, -31.50146, 1043.3),
      feature('A-1', 21.40143, -31.50146, 1043.3),
      feature('A-2', 21.5, -31.6, 1040.1),
    ],
  }),
);

const NMEA = [];
for (let i = 0; i < 4; i += 1) {
  NMEA.push(sentence(`GNRMC,05000${i}.00,A,3130.08760,S,02124.08580,E,0.1,,040326,,,R`));
  NMEA.push(sentence(`GNGGA,05000${i}.00,3130.087600${i},S,02124.0858000,E,4,18,0.7,1016.25,M,27.5,M,1.0,0001`));
  NMEA.push(sentence(`GNGST,05000${i}.00,0.01,0.01,0.01,10.0,0.010,0.010,0.020`));
  NMEA.push(sentence('GNGSA,A,3,02,05,07,13,15,20,,,,,,,1.4,0.7,1.2'));
}
const OCCUPATIONS = [
  'point_id,from_utc,to_utc,pole_length_m',
  'A-1,2026-03-04T05:00:00Z,2026-03-04T05:00:01Z,2.0',
  'A-2,2026-03-04T05:00:02Z,2026-03-04T05:00:59Z,1.8',
];

const POINTS = [
  'point_id,westing_m,southing_m,orthometric_height_m,ellipsoidal_height_m,sigma_east_m,sigma_north_m,sigma_up_m,tolerance_horizontal_m,tolerance_vertical_m,note',
  'QS-1,-31672.3688,3482432.0897,1042.1288,1069.5166,0.0100,0.0100,0.0180,0.05,0.1,peg',
  'QS-2,-34432.3790,3482512.0882,1063.7068,1091.1536,0.0100,0.0100,0.0180,0.05,0.1,peg',
  'QS-3,-34502.3702,3480122.0614,1088.2177,1115.6349,0.0100,0.0100,0.0180,0.05,0.1,peg',
  'QS-4,-31702.3702,3480122.0614,1088.2177,1115.6349,0.0100,0.0100,0.0180,0.05,0.1,peg',
];
const SITE_CONTROL = [
  'point_id,easting_m,northing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role,source',
  'QS-1,3973.7806,6565.9966,1042.3356,0.004,0.004,fit,made up',
  'QS-2,6687.0061,7080.6164,1063.9430,0.004,0.004,fit,made up',
  'QS-3,6242.0904,9430.2652,1088.4351,0.004,0.004,fit,made up',
  'QS-4,3500.0,8900.0,1088.4,0.004,0.004,both,made up',
];
const GRID_CONTROL = [
  'point_id,westing_m,southing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role,source',
  'QS-1,-31672.37,3482432.10,1042.13,0.005,0.008,check,made up',
  'QS-3,-34502.37,3480122.06,1088.22,0.005,0.008,both,made up',
];
const SHIFT = [
  'method = "Time-dependent Coordinate Frame rotation (geog2D domain)"',
  'name = "made up"',
  'source = "invented"',
  'rotation_convention = "coordinate-frame"',
  'tx_m = 100.5',
  'ty_m = -80.25',
  'tz_m = 12.0',
  'rx_arcsec = 0.12',
  'ry_arcsec = -0.2',
  'rz_arcsec = 0.5',
  'ds_ppm = 1.2',
  'tx_m_per_year = 0.001',
  'ty_m_per_year = 0.0',
  'tz_m_per_year = 0.0',
  'rx_arcsec_per_year = 0.0',
  'ry_arcsec_per_year = 0.0',
  'rz_arcsec_per_year = 0.0',
  'ds_ppm_per_year = 0.0',
  'reference_epoch_year = 2010.0',
  'accuracy_m = 1.0',
];
const LIMITS = [
  'version = 1',
  'title = "made up"',
  'source = "invented"',
  '[[limit]]',
  'name = "plan"',
  'axis = "2d"',
  'constant_m = 0.03',
  'proportion_ppm = 2',
  'distance_offset_m = 100',
  'floor_m = 0.01',
  'cap_m = 0.2',
  'probability = 0.95',
  '[[limit]]',
  'name = "height"',
  'axis = "up"',
  'combine = "rss"',
  'constant_m = 0.05',
  'per_root_km_m = 0.01',
  'applies_to = ["control", "repeats"]',
];
const PAIRS = ['from_id,to_id', 'QS-1,QS-2', 'QS-2,QS-3', 'QS-3,QS-1'];
const POLAR = [
  'point_id,from_id,grid_bearing_deg,distance_m,distance_kind',
  'P-1,QS-1,45.5,250.125,grid',
  'P-2,QS-2,270,1000,ellipsoidal',
];
const CANDIDATES = [
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,cellular,sky_score,cost',
  'school roof,-31.5,21.4,1042.0,yes,8,120',
  'pump house,-31.4385,21.5025,1050.5,yes,9,40',
  'koppie,-31.52,21.35,1080,no,10,',
];
const located = (type, coordinates, id) => ({
  type: 'Feature',
  geometry: { type, coordinates },
  properties: { point_id: id, note: 'made up' },
});
const WORK = Buffer.from(
  JSON.stringify({
    type: 'FeatureCollection',
    features: [
      located('Point', [21.385, -31.512, 1012.4], 'W-1'),
      located(
        'LineString',
        [
          [21.4, -31.5, 1000],
          [21.5, -31.45, 1020],
          [21.6, -31.4, 1060],
        ],
        'W-2',
      ),
      located(
        'Polygon',
        [
          [
            [21.4, -31.5, 1000],
            [21.45, -31.5, 1000],
            [21.45, -31.45, 1000],
            [21.4, -31.5, 1000],
          ],
        ],
        'W-3',
      ),
    ],
  }),
);

/** Files that every case finds beside the damaged one. */
export const STEADY = {
  'session.toml': text(SESSION),
  'geoid.csv': geoidCsvBytes(),
  'fixes.csv': text(FIXES),
  'stands.csv': text(STANDS),
  'fixes.geojson': GEOJSON,
  'log.nmea': Buffer.from(`${NMEA.join('\r\n')}\r\n`),
  'occupations.csv': text(OCCUPATIONS),
  'points.csv': text(POINTS),
  'site-control.csv': text(SITE_CONTROL),
  'control.csv': text(GRID_CONTROL),
  'shift.toml': text(SHIFT),
  'limits.toml': text(LIMITS),
  'pairs.csv': text(PAIRS),
  'polar.csv': text(POLAR),
  'candidates.csv': text(CANDIDATES),
  'work.geojson': WORK,
  // Made by fit-site of points.csv and site-control.csv.
  'site.json': readFileSync(new URL('site.json', import.meta.url)),
};

const REDUCE = ['reduce-points', 'fixes.csv', '-s', 'session.toml'];
const GEOID = ['reduce-points', 'fixes.csv', '-s', 'session.toml', '--geoid'];
const TRANSFORM = ['transform', 'points.csv', '--from', 'EPSG:2049'];
const JOIN = ['join-points', 'points.csv', '--system', 'EPSG:2049'];
const PLAN = [
  'plan-baseline',
  'points.csv',
  '--system',
  'EPSG:2049',
  '--limit-horizontal',
  '0.05',
  '--limit-vertical',
  '0.1',
  '--pole-length',
  '2',
  '--base-sigma',
  '0.01,0.02',
];
const FIT = [
  'fit-site',
  'points.csv',
  '--system',
  'EPSG:2049',
  '--control',
  'site-control.csv',
  '--site-axes',
  'easting_m,northing_m',
  '--allow-poor-spread',
];
const CHECK = ['check-tolerances', 'points.csv', '--system', 'EPSG:2049', '--control', 'control.csv'];
const RECORD = {
  schema: 'pegbook-run-record',
  version: 2,
  tool_version: '0.1.0',
  argv: ['reduce-points', 'fixes.csv'],
  settings: [{ key: 'rover.pole_length_m', value: 2, from: 'session file' }],
  inputs: [
    {
      name: 'fixes.csv',
      kind: 'csv',
      bytes: 90,
      sha256: 'ab',
      encoding: 'utf-8',
      rows_read: 2,
      rows_used: 2,
      rows_rejected: 0,
      row_from: 1,
      row_to: 2,
      reaches_end: true,
    },
  ],
  systems: [],
  grids: [],
  methods: [],
  problems: { 'value-missing': 1 },
  verdict: 'within',
  verdict_counts: { within: 2, review: 0, no: 0 },
  reason_counts: {},
  exit_code: 0,
};
const textual = [mutateText, mutateText, mutateBytes];

/** Kinds of input: the file that is damaged, how, and the command that reads it. `command` must exist for the kind to be run. */
export const KINDS = [
  {
    name: 'fixes-csv',
    file: 'fixes.csv',
    bytes: STEADY['fixes.csv'],
    damage: [mutateTable, mutateTable, mutateTable, ...textual],
    argv: REDUCE,
  },
  {
    name: 'stands-csv',
    file: 'stands.csv',
    bytes: STEADY['stands.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: ['reduce-points', 'stands.csv', '-s', 'session.toml', '--combine', '--on-error', 'skip'],
  },
  {
    name: 'fixes-geojson',
    file: 'fixes.geojson',
    bytes: GEOJSON,
    damage: [mutateJson, mutateJson, mutateJson, ...textual],
    argv: ['reduce-points', 'fixes.geojson', '-s', 'session.toml'],
  },
  {
    name: 'fixes-nmea',
    file: 'log.nmea',
    bytes: STEADY['log.nmea'],
    damage: [mutateNmea],
    argv: ['reduce-points', 'log.nmea', '-s', 'session.toml', '--occupations', 'occupations.csv'],
  },
  {
    name: 'occupations',
    file: 'occupations.csv',
    bytes: STEADY['occupations.csv'],
    damage: [mutateTable, ...textual],
    argv: ['reduce-points', 'log.nmea', '-s', 'session.toml', '--occupations', 'occupations.csv'],
  },
  { name: 'session', file: 'session.toml', bytes: STEADY['session.toml'], damage: textual, argv: REDUCE },
  { name: 'geoid-csv', file: 'geoid.csv', bytes: STEADY['geoid.csv'], damage: [mutateTable, ...textual], argv: REDUCE },
  {
    name: 'geoid-gtx',
    file: 'grid.gtx',
    bytes: gtxBytes(),
    damage: [mutateBinary, mutateBinary, mutateBytes],
    argv: [...GEOID, 'grid.gtx'],
  },
  {
    name: 'geoid-tiff',
    file: 'grid.tif',
    bytes: tiffGridBytes(false),
    damage: [mutateBinary, mutateBinary, mutateBytes],
    argv: [...GEOID, 'grid.tif'],
  },
  {
    name: 'geoid-tiff-deflate',
    file: 'deflate.tif',
    bytes: tiffGridBytes(true),
    damage: [mutateBinary, mutateBinary, mutateBytes],
    argv: [...GEOID, 'deflate.tif'],
  },
  { name: 'geoid-isg', file: 'grid.isg', bytes: isgBytes(), damage: textual, argv: [...GEOID, 'grid.isg'] },
  {
    name: 'geoid-tiff-claims',
    file: 'claims.tif',
    bytes: tiffGridBytes(false),
    damage: [structuredTiff],
    argv: [...GEOID, 'claims.tif'],
  },
  {
    name: 'geoid-isg-claims',
    file: 'claims.isg',
    bytes: isgBytes(),
    damage: [structuredIsg],
    argv: [...GEOID, 'claims.isg'],
  },
  {
    name: 'shift-gsb-claims',
    file: 'claims.gsb',
    bytes: ntv2Bytes(),
    damage: [structuredNtv2],
    argv: [...TRANSFORM, '--to', 'EPSG:4222', '--shift', 'claims.gsb'],
  },
  {
    name: 'points-csv',
    file: 'points.csv',
    bytes: STEADY['points.csv'],
    damage: [mutateTable, mutateTable, mutateTable, ...textual],
    argv: [...TRANSFORM, '--to', 'EPSG:4148'],
  },
  {
    name: 'points-join',
    file: 'points.csv',
    bytes: STEADY['points.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: [...JOIN, '--consecutive'],
  },
  {
    name: 'shift',
    file: 'shift.toml',
    bytes: STEADY['shift.toml'],
    damage: textual,
    argv: [...TRANSFORM, '--to', 'EPSG:4326', '--shift', 'shift.toml', '--epoch', '2020'],
  },
  {
    name: 'shift-gsb',
    file: 'shift.gsb',
    bytes: ntv2Bytes(),
    damage: [mutateBinary, mutateBinary, mutateBytes],
    argv: [...TRANSFORM, '--to', 'EPSG:4222', '--shift', 'shift.gsb'],
  },
  {
    name: 'pairs',
    file: 'pairs.csv',
    bytes: STEADY['pairs.csv'],
    damage: [mutateTable, ...textual],
    argv: [...JOIN, '--pairs', 'pairs.csv'],
  },
  {
    name: 'polar',
    file: 'polar.csv',
    bytes: STEADY['polar.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: [...JOIN, '--polar', 'polar.csv'],
  },
  {
    name: 'plan-points',
    file: 'points.csv',
    bytes: STEADY['points.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: [...PLAN, '--base', '-31.5,21.4,1040'],
  },
  {
    name: 'plan-candidates',
    file: 'candidates.csv',
    bytes: STEADY['candidates.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: [...PLAN, '--candidates', 'candidates.csv'],
  },
  {
    name: 'plan-geojson',
    file: 'work.geojson',
    bytes: WORK,
    damage: [mutateJson, mutateJson, mutateJson, ...textual],
    argv: [...PLAN.with(1, 'work.geojson'), '--base', '-31.5,21.4,1040', '--spacing', '2000'],
  },
  {
    name: 'site-control',
    file: 'site-control.csv',
    bytes: STEADY['site-control.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: FIT,
  },
  {
    name: 'site',
    file: 'site.json',
    bytes: STEADY['site.json'],
    damage: [mutateJson, mutateJson, ...textual],
    argv: [...TRANSFORM, '--site', 'site.json'],
  },
  {
    name: 'run-record',
    file: 'run.json',
    bytes: Buffer.from(JSON.stringify(RECORD)),
    damage: [mutateJson, mutateJson, ...textual],
    argv: ['merge-records', 'run.json'],
  },
  {
    name: 'control',
    file: 'control.csv',
    bytes: STEADY['control.csv'],
    damage: [mutateTable, mutateTable, ...textual],
    argv: [...CHECK, '--limit-horizontal', '0.05', '--limit-vertical', '0.08'],
  },
  {
    name: 'limits',
    file: 'limits.toml',
    bytes: STEADY['limits.toml'],
    damage: textual,
    argv: [...CHECK, '--limits', 'limits.toml'],
  },
];
