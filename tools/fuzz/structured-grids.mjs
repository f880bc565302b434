// Grids made wrong by somebody who knows their formats: whole in structure, hostile in what they claim. TIFF with counts,
// offsets and layouts that do not fit, NTv2 with sub-grids that do not nest, ISG whose header and numbers differ. Small
// files that ask for much; `HOSTILE` are those that once took gigabytes or did not end.
import { Buffer } from 'node:buffer';
import { deflateSync } from 'node:zlib';
import { isgBytes, ntv2Bytes } from './small-grids.mjs';

const WHOLE = [0, 1, 2, 3, 5, 16, 17, 255, 256, 65_535, 65_536, 1_000_000, 0x7fffffff, 0x80000000, 0xffffffff];
const SIZE = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 11: 4, 12: 8, 16: 8 };
const INVENTED =
  '<GDALMetadata><Item name="TYPE">VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL</Item><Item name="DESCRIPTION" sample="0" role="description">geoid_undulation</Item></GDALMetadata>\0';

function packed(type, values) {
  if (typeof values === 'string') return Buffer.from(values, 'latin1');
  const bytes = Buffer.alloc(SIZE[type] * values.length);
  values.forEach((value, index) => {
    const at = SIZE[type] * index;
    if (type === 3) bytes.writeUInt16LE(value & 0xffff, at);
    else if (type === 4) bytes.writeUInt32LE(value >>> 0, at);
    else if (type === 12) bytes.writeDoubleLE(value, at);
    else bytes[at] = value & 0xff;
  });
  return bytes;
}

/**
 * A little-endian TIFF of one directory or more. Each directory is a list of entries { tag, type, values, count?, offset? }:
 * `count` and `offset` lie where they are given. `blocks` are put before the directories; entries with `blocks: true` hold
 * their offsets. `loops`: the last directory points to the first.
 */
export function tiffOf(directories, blocks, loops = false) {
  const pieces = [Buffer.from([0x49, 0x49, 42, 0, 0, 0, 0, 0]), ...blocks];
  const offsets = [];
  let at = 8;
  for (const block of blocks) {
    offsets.push(at);
    at += block.length;
  }
  let link = { buffer: pieces[0], position: 4 };
  let firstAt = 0;
  directories.forEach((entries, which) => {
    const directory = Buffer.alloc(2 + 12 * entries.length + 4);
    link.buffer.writeUInt32LE(at, link.position);
    if (which === 0) firstAt = at;
    link = { buffer: directory, position: directory.length - 4 };
    directory.writeUInt16LE(entries.length & 0xffff, 0);
    pieces.push(directory);
    at += directory.length;
    entries.forEach((entry, index) => {
      const data = packed(entry.type, entry.blocks === true ? offsets : entry.values);
      const place = 2 + 12 * index;
      directory.writeUInt16LE(entry.tag, place);
      directory.writeUInt16LE(entry.type, place + 2);
      directory.writeUInt32LE((entry.count ?? data.length / (SIZE[entry.type] ?? 1)) >>> 0, place + 4);
      if (entry.offset !== undefined) directory.writeUInt32LE(entry.offset >>> 0, place + 8);
      else if (data.length <= 4) data.copy(directory, place + 8);
      else {
        directory.writeUInt32LE(at, place + 8);
        pieces.push(data);
        at += data.length;
      }
    });
  });
  if (loops) link.buffer.writeUInt32LE(firstAt, link.position);
  return Buffer.concat(pieces);
}

/** The entries of a sound grid of so many nodes in one strip; `changed` replaces entries by tag, or adds them. */
function entriesOf(columns, rows, stripBytes, compression, changed = {}) {
  const entries = new Map([
    [256, { type: 4, values: [columns] }],
    [257, { type: 4, values: [rows] }],
    [258, { type: 3, values: [32] }],
    [259, { type: 3, values: [compression] }],
    [262, { type: 3, values: [1] }],
    [273, { type: 4, values: [], blocks: true }],
    [277, { type: 3, values: [1] }],
    [278, { type: 4, values: [rows] }],
    [279, { type: 4, values: [stripBytes] }],
    [284, { type: 3, values: [1] }],
    [339, { type: 3, values: [3] }],
    [33550, { type: 12, values: [0.2, 0.2, 0] }],
    [33922, { type: 12, values: [0, 0, 0, 21, -31.2, 0] }],
    [34735, { type: 3, values: [1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 2, 2048, 0, 1, 4148] }],
    [42112, { type: 2, values: INVENTED }],
  ]);
  for (const [tag, entry] of Object.entries(changed))
    entries.set(Number(tag), { ...entries.get(Number(tag)), ...entry });
  return [...entries].map(([tag, entry]) => ({ tag, ...entry }));
}

const strip = (nodes) => packedFloats(Array.from({ length: nodes }, (_, index) => 27 + 0.01 * index));
function packedFloats(values) {
  const bytes = Buffer.alloc(4 * values.length);
  values.forEach((value, index) => bytes.writeFloatLE(value, 4 * index));
  return bytes;
}

/** Small TIFFs that once took gigabytes, or did not end. */
export const HOSTILE = {
  'samples a pixel: 2^32': () =>
    tiffOf([entriesOf(6, 5, 120, 1, { 277: { type: 4, values: [0xffffffff] } })], [strip(30)]),
  'samples a pixel: 2^32, their bits listed nowhere': () =>
    tiffOf(
      [
        entriesOf(6, 5, 120, 1, {
          277: { type: 4, values: [0xffffffff] },
          258: { type: 3, values: [32], count: 0xffffffff, offset: 0 },
        }),
      ],
      [strip(30)],
    ),
  'metadata of 600 kB': () =>
    tiffOf(
      [
        entriesOf(6, 5, 120, 1, {
          42112: { values: `<GDALMetadata>${'<Item name="a" '.repeat(40_000)}</GDALMetadata>\0` },
        }),
      ],
      [strip(30)],
    ),
  'metadata of 600 kB, never closed': () =>
    tiffOf([entriesOf(6, 5, 120, 1, { 42112: { values: `${'<Item>'.repeat(100_000)}\0` } })], [strip(30)]),
  'planar samples that share a block': () =>
    tiffOf(
      [
        entriesOf(2000, 2000, 16_000_000, 1, {
          277: { values: [65_535] },
          284: { values: [2] },
          273: { blocks: false, values: Array.from({ length: 20_000 }, () => 8) },
          279: { values: Array.from({ length: 20_000 }, () => 120) },
        }),
      ],
      [strip(30)],
    ),
  'thousands of tags, each an array at 0': () =>
    tiffOf(
      [
        [
          ...entriesOf(6, 5, 120, 1),
          ...Array.from({ length: 4000 }, (_, index) => ({
            tag: 50_000 + index,
            type: 4,
            values: [],
            count: 60_000,
            offset: 0,
          })),
        ],
      ],
      [strip(30), Buffer.alloc(250_000)],
    ),
  'zeros of 400 million nodes': () => {
    const block = deflateSync(Buffer.alloc(20_000_000), { level: 9 });
    const strips = Array.from({ length: 80 }, () => 8);
    return tiffOf(
      [
        entriesOf(20_000, 20_000, block.length, 8, {
          278: { values: [250] },
          273: { blocks: false, values: strips },
          279: { values: strips.map(() => block.length) },
          33550: { values: [0.0001, 0.0001, 0] },
        }),
      ],
      [block],
    );
  },
  'directories in a circle': () => tiffOf([entriesOf(6, 5, 120, 1), entriesOf(6, 5, 120, 1)], [strip(30)], true),
  'key directory of 65,535 entries': () =>
    tiffOf(
      [
        entriesOf(6, 5, 120, 1, {
          34735: {
            values: Array.from({ length: 65_535 }, (_, index) => (index < 4 ? [1, 1, 0, 16_383][index] : 1024)),
          },
        }),
      ],
      [strip(30)],
    ),
  'geographic text at the end of everything': () =>
    tiffOf([entriesOf(6, 5, 120, 1, { 34737: { type: 2, values: '', count: 0xfffffff0, offset: 4 } })], [strip(30)]),
};

/** A TIFF of stated structure whose counts, offsets and layout are drawn from what readers must expect. */
export function structuredTiff(_bytes, random) {
  const columns = random.pick([1, 2, 6, 64, 300]);
  const rows = random.pick([1, 2, 5, 64, 300]);
  const compression = random.pick([1, 1, 8, 8, 5, 32_946, 50_000, 34_887]);
  const plain = strip(columns * rows);
  const block =
    compression === 8 || compression === 32_946
      ? deflateSync(random.chance(0.3) ? Buffer.alloc(2_000_000) : plain)
      : plain;
  const changed = {};
  const tags = [
    256, 257, 258, 259, 273, 277, 278, 279, 284, 317, 322, 323, 324, 325, 339, 33550, 33922, 34264, 34735, 34736, 34737,
    42112, 42113, 330, 254,
  ];
  for (let left = random.index(4); left > 0; left -= 1) {
    const tag = random.pick(tags);
    const type = random.pick([2, 3, 3, 4, 4, 12]);
    const length = random.pick([0, 1, 1, 2, 3, 6, 64, 5000]);
    changed[tag] = {
      type,
      blocks: false,
      values:
        type === 2
          ? random.pick([
              '',
              '\0',
              '-9999\0',
              'nan\0',
              '1e400\0',
              '<GDALMetadata>\0',
              INVENTED,
              '<Item '.repeat(length),
            ])
          : Array.from({ length }, () =>
              type === 12
                ? random.pick([0, -0, 1e308, -1e308, 5e-324, Number.NaN, 21, -31.2, 1e-9])
                : random.pick(WHOLE),
            ),
    };
    if (random.chance(0.25)) changed[tag].count = random.pick(WHOLE);
    if (random.chance(0.25)) changed[tag].offset = random.pick([0, 4, 8, ...WHOLE]);
  }
  const one = entriesOf(columns, rows, block.length, compression, changed);
  const more = random.chance(0.2)
    ? Array.from({ length: random.pick([1, 3, 50]) }, () => entriesOf(columns, rows, block.length, compression))
    : [];
  return tiffOf([one, ...more], [block], random.chance(0.1));
}

/** NTv2 whose sub-grids overlap, nest in each other, run empty or claim more nodes than the file holds. */
export function structuredNtv2(_bytes, random) {
  const bytes = ntv2Bytes();
  const overview = Buffer.from(bytes.subarray(0, 176));
  const sub = bytes.subarray(176, bytes.length - 16);
  const count = random.pick([0, 1, 2, 3, 40]);
  const grids = Array.from({ length: count }, (_, index) => {
    const copy = Buffer.from(sub);
    copy.write(
      random
        .pick(['MADEUP', `G${String(index)}`, 'A', '        ', '\0\0'])
        .padEnd(8)
        .slice(0, 8),
      8,
      'latin1',
    );
    copy.write(
      random
        .pick(['NONE', 'MADEUP', 'A', `G${String(index)}`, `G${String(count - 1 - index)}`])
        .padEnd(8)
        .slice(0, 8),
      24,
      'latin1',
    );
    if (random.chance(0.5)) {
      const field = 64 + 16 * random.index(7) + 8;
      if (field === 168) copy.writeUInt32LE(random.pick(WHOLE), field);
      else
        copy.writeDoubleLE(
          random.pick([0, 1, -1, 720, 1e-9, 1e308, Number.NaN, Number.POSITIVE_INFINITY, -115_200, 3600]),
          field,
        );
    }
    return copy;
  });
  overview.writeUInt32LE(random.pick([count, count, count, ...WHOLE]), 40);
  if (random.chance(0.2)) overview.writeUInt32LE(random.pick(WHOLE), 8 + 16 * random.index(3));
  return Buffer.concat([overview, ...grids, ...(random.chance(0.7) ? [bytes.subarray(bytes.length - 16)] : [])]);
}

/** ISG whose header claims another shape than its numbers have, or claims it twice, or never ends. */
export function structuredIsg(_bytes, random) {
  const lines = isgBytes().toString('latin1').split('\n');
  const end = lines.findIndex((line) => line.startsWith('end_of_head'));
  const fields = [
    'lat min',
    'lat max',
    'lon min',
    'lon max',
    'delta lat',
    'delta lon',
    'nrows',
    'ncols',
    'nodata',
    'ISG format',
    'data format',
    'coord units',
    'data ordering',
  ];
  for (let left = 1 + random.index(3); left > 0; left -= 1) {
    const field = random.pick(fields);
    const value = random.pick([
      '0',
      '-1',
      '5',
      '6',
      '1e9',
      '400000000',
      '4294967296',
      '1e-12',
      'nan',
      '',
      '21°00\'00"',
      '---',
      '-32.1',
      '360',
      'sparse',
      'grid',
      'dms',
      '2.0',
      '1.0',
      'S-to-N, W-to-E',
    ]);
    const line = `${field} ${random.pick(['=', ':'])} ${value}`;
    const at = lines.findIndex((other) => other.startsWith(field));
    if (random.chance(0.2)) lines.splice(random.index(end), 0, line);
    else if (at >= 0) lines[at] = line;
  }
  switch (random.index(5)) {
    case 0:
      lines.push('0.0 '.repeat(random.pick([1, 100, 50_000])));
      break;
    case 1:
      lines.splice(end + 1, 1);
      break;
    case 2:
      lines.splice(end, 1);
      break;
    case 3:
      lines.push(...Array.from({ length: random.pick([1, 1000, 100_000]) }, () => ''));
      break;
    default:
  }
  return Buffer.from(lines.join('\n'), 'latin1');
}
