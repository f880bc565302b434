// Small geoid grids of every kind that is read, made here: invented heights around Quillback Pan.
import { Buffer } from 'node:buffer';
import { deflateSync } from 'node:zlib';

const ROWS = 5;
const COLUMNS = 6;
const SOUTH = -32;
const WEST = 21;
const STEP = 0.2;
const height = (row, column) => 27 + 0.1 * row - 0.05 * column;

/** GTX: 40 bytes of header, big-endian. */
export function gtxBytes() {
  const bytes = Buffer.alloc(40 + 4 * ROWS * COLUMNS);
  [SOUTH, WEST, STEP, STEP].forEach((value, index) => bytes.writeDoubleBE(value, 8 * index));
  bytes.writeInt32BE(ROWS, 32);
  bytes.writeInt32BE(COLUMNS, 36);
  for (let row = 0; row < ROWS; row += 1)
    for (let column = 0; column < COLUMNS; column += 1)
      bytes.writeFloatBE(height(row, column), 40 + 4 * (row * COLUMNS + column));
  return bytes;
}

/** CSV of nodes. */
export function geoidCsvBytes() {
  let text = 'latitude_deg,longitude_deg,geoid_height_m\n';
  for (let row = 0; row < ROWS; row += 1)
    for (let column = 0; column < COLUMNS; column += 1)
      text += `${(SOUTH + row * STEP).toFixed(2)},${(WEST + column * STEP).toFixed(2)},${height(row, column).toFixed(4)}\n`;
  return Buffer.from(text);
}

/** ISG 2.0. */
export function isgBytes() {
  const head = [
    'begin_of_head',
    'model name : MADE UP',
    'model year : 2026',
    'model type : gravimetric',
    'data type : geoid',
    'data units : meters',
    'data format : grid',
    'data ordering : N-to-S, W-to-E',
    'ref ellipsoid : WGS84',
    'ref frame : ---',
    'height datum : ---',
    'tide system : ---',
    'coord type : geodetic',
    'coord units : deg',
    'map projection : ---',
    'EPSG code : 4148',
    `lat min = ${SOUTH - STEP / 2}`,
    `lat max = ${SOUTH + (ROWS - 0.5) * STEP}`,
    `lon min = ${WEST - STEP / 2}`,
    `lon max = ${WEST + (COLUMNS - 0.5) * STEP}`,
    `delta lat = ${STEP}`,
    `delta lon = ${STEP}`,
    `nrows = ${ROWS}`,
    `ncols = ${COLUMNS}`,
    'nodata = -9999.0',
    'creation date = 01/03/2026',
    'ISG format = 2.0',
    'end_of_head',
  ];
  for (let row = ROWS - 1; row >= 0; row -= 1)
    head.push(Array.from({ length: COLUMNS }, (_, column) => height(row, column).toFixed(4)).join(' '));
  return Buffer.from(`${head.join('\n')}\n`);
}

/** A TIFF of one strip of four-byte numbers, plain or deflated, little-endian. */
export function tiffGridBytes(isDeflated) {
  const plain = Buffer.alloc(4 * ROWS * COLUMNS);
  for (let row = 0; row < ROWS; row += 1)
    for (let column = 0; column < COLUMNS; column += 1)
      plain.writeFloatLE(height(ROWS - 1 - row, column), 4 * (row * COLUMNS + column));
  const strip = isDeflated ? deflateSync(plain) : plain;
  const doubles = (values) => {
    const bytes = Buffer.alloc(8 * values.length);
    values.forEach((value, index) => bytes.writeDoubleLE(value, 8 * index));
    return bytes;
  };
  const shorts = (values) => {
    const bytes = Buffer.alloc(2 * values.length);
    values.forEach((value, index) => bytes.writeUInt16LE(value, 2 * index));
    return bytes;
  };
  const long = (value) => {
    const bytes = Buffer.alloc(4);
    bytes.writeUInt32LE(value);
    return bytes;
  };
  const description = Buffer.from(
    '<GDALMetadata><Item name="TYPE">VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL</Item><Item name="DESCRIPTION" sample="0" role="description">geoid_undulation</Item></GDALMetadata>\0',
  );
  // Tag, type (2 text, 3 two bytes, 4 four bytes, 12 eight-byte number), count, bytes.
  const tags = [
    [256, 3, 1, shorts([COLUMNS])],
    [257, 3, 1, shorts([ROWS])],
    [258, 3, 1, shorts([32])],
    [259, 3, 1, shorts([isDeflated ? 8 : 1])],
    [262, 3, 1, shorts([1])],
    [273, 4, 1, null],
    [277, 3, 1, shorts([1])],
    [278, 3, 1, shorts([ROWS])],
    [279, 4, 1, long(strip.length)],
    [284, 3, 1, shorts([1])],
    [339, 3, 1, shorts([3])],
    [33550, 12, 3, doubles([STEP, STEP, 0])],
    [33922, 12, 6, doubles([0, 0, 0, WEST, SOUTH + (ROWS - 1) * STEP, 0])],
    [34735, 3, 16, shorts([1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 2, 2048, 0, 1, 4148])],
    [42112, 2, description.length, description],
  ];
  const directory = Buffer.alloc(2 + 12 * tags.length + 4);
  directory.writeUInt16LE(tags.length, 0);
  const extras = [];
  let at = 8 + directory.length;
  const stripAt = at;
  extras.push(strip);
  at += strip.length;
  tags.forEach(([tag, type, count, data], index) => {
    const entry = 2 + 12 * index;
    const value = data ?? long(stripAt);
    directory.writeUInt16LE(tag, entry);
    directory.writeUInt16LE(type, entry + 2);
    directory.writeUInt32LE(count, entry + 4);
    if (value.length <= 4) {
      value.copy(directory, entry + 8);
      return;
    }
    directory.writeUInt32LE(at, entry + 8);
    extras.push(value);
    at += value.length;
  });
  return Buffer.concat([Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0]), directory, ...extras]);
}

/** NTv2: two headers of 176 bytes, then four four-byte numbers a node, from the south-east; little-endian. */
export function ntv2Bytes() {
  const bytes = Buffer.alloc(352 + 16 * ROWS * COLUMNS + 16);
  const put = (at, name, value) => {
    bytes.write(name.padEnd(8), at, 'latin1');
    if (typeof value === 'string') bytes.write(value.padEnd(8), at + 8, 'latin1');
    else if (Number.isInteger(value) && /^(?:NUM|GS_COUNT)/u.test(name)) bytes.writeInt32LE(value, at + 8);
    else bytes.writeDoubleLE(value, at + 8);
  };
  const overview = [
    ['NUM_OREC', 11],
    ['NUM_SREC', 11],
    ['NUM_FILE', 1],
    ['GS_TYPE', 'SECONDS'],
    ['VERSION', 'MADE UP'],
    ['SYSTEM_F', 'OLD'],
    ['SYSTEM_T', 'NEW'],
    ['MAJOR_F', 6378249.145],
    ['MINOR_F', 6356514.966],
    ['MAJOR_T', 6378137],
    ['MINOR_T', 6356752.314],
  ];
  // Longitudes of the format grow westward.
  const south = SOUTH * 3600;
  const step = STEP * 3600;
  const east = -(WEST + (COLUMNS - 1) * STEP) * 3600;
  const sub = [
    ['SUB_NAME', 'MADEUP'],
    ['PARENT', 'NONE'],
    ['CREATED', '20260304'],
    ['UPDATED', '20260304'],
    ['S_LAT', south],
    ['N_LAT', south + (ROWS - 1) * step],
    ['E_LONG', east],
    ['W_LONG', east + (COLUMNS - 1) * step],
    ['LAT_INC', step],
    ['LONG_INC', step],
    ['GS_COUNT', ROWS * COLUMNS],
  ];
  overview.forEach(([name, value], index) => put(16 * index, name, value));
  sub.forEach(([name, value], index) => put(176 + 16 * index, name, value));
  for (let node = 0; node < ROWS * COLUMNS; node += 1) {
    bytes.writeFloatLE(0.5 + 0.01 * node, 352 + 16 * node);
    bytes.writeFloatLE(-1.5 + 0.01 * node, 352 + 16 * node + 4);
  }
  bytes.write('END     ', bytes.length - 16, 'latin1');
  return bytes;
}
