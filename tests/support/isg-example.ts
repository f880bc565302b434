const NODES = [
  '30.1234 31.2222 32.3456 33.4444 34.5678 36.6666',
  '41.1111 42.2345 43.3333 44.4567 45.5555 46.6789',
  '51.4321 52.9753 53.6543 54.8642 -9999.0000 -9999.0000',
  '61.9999 62.8888 63.7777 64.6666 -9999.0000 -9999.0000',
];

/** Header fields of an ISG file: value by key; a key given here replaces the example's, undefined takes it away. */
export type IsgChange = Readonly<Record<string, string | undefined>>;

const DMS: IsgChange = {
  'model name': 'MADE UP',
  'model type': 'gravimetric',
  'data type': 'geoid',
  'data units': 'meters',
  'data format': 'grid',
  'data ordering': 'N-to-S, W-to-E',
  'ref ellipsoid': 'GRS80',
  'height datum': '---',
  'coord type': 'geodetic',
  'coord units': 'dms',
  'map projection': '---',
  'EPSG code': '7912',
  'lat min': `39°50'00"`,
  'lat max': `41°10'00"`,
  'lon min': `119°50'00"`,
  'lon max': `121°50'00"`,
  'delta lat': `0°20'00"`,
  'delta lon': `0°20'00"`,
  nrows: '4',
  ncols: '6',
  nodata: '-9999.0000',
  'ISG format': '2.0',
};

/** What turns the example of bounds at the edges of cells into the one of bounds at nodes. */
export const NODE_BOUNDS: IsgChange = {
  'coord units': 'deg',
  'lat min': '40.000000',
  'lat max': '41.000000',
  'lon min': '120.000000',
  'lon max': '121.666667',
  'delta lat': '0.333333',
  'delta lon': '0.333333',
};

const NUMERIC = /^(?:lat|lon|delta|nrows|ncols|nodata|ISG)/u;

/** An ISG file with the numbers of the format's published example 1, and changes to its header. */
export function isgText(change: IsgChange = {}, nodes: readonly string[] = NODES): string {
  const fields = Object.entries({ ...DMS, ...change }).filter(([, value]) => value !== undefined);
  const header = fields.map(([key, value]) => `${key.padEnd(15)}${NUMERIC.test(key) ? '=' : ':'} ${value ?? ''}`);
  return [
    'A comment that anyone may write: even with = in it',
    'begin_of_head ================',
    ...header,
    'end_of_head ==================',
    ...nodes,
    '',
  ].join('\n');
}
