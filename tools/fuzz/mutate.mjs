// What damage looks like: bytes, cells, lines, numbers, keys and binary headers.
import { Buffer } from 'node:buffer';

/** Numbers at the edges of what a reader, a projection or a double can take. */
export const NUMBERS = [
  '',
  '0',
  '-0',
  '1',
  '-1',
  '90',
  '-90',
  '90.0000001',
  '180',
  '-180',
  '360',
  '360.5',
  '1e308',
  '-1e308',
  '1e309',
  '1e-320',
  '5e-324',
  '9007199254740993',
  '123456789012345678901234567890',
  '0.1'.padEnd(400, '1'),
  'NaN',
  'Infinity',
  '-inf',
  '0x10',
  '1,5',
  '1.234,5',
  '1 234',
  '.',
  '-',
  '+',
  '1e',
  '1.5.2',
  '٣',
  '６',
  '--1',
  '1_000',
  '12:30:45',
  '25°43\'55.302"S',
  '-25:43:55',
  '59 59 59.999999 N',
  '6378137',
  '-6378137',
  '1e7',
  '4e7',
  '1e-9',
  'null',
  'true',
];

/** Text that breaks what trusts its input: names of prototypes, formulas, quotes, escapes, long and odd characters. */
export const TEXTS = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  '=1+1',
  '+1',
  '-1',
  '@SUM(A1)',
  '\t=1',
  '"',
  '""',
  '"a',
  'a"b',
  ',',
  ';',
  '\r',
  '\n',
  '\r\n',
  '\u0000',
  '\u001b[31mred',
  '\u202eabc',
  '\ufeff',
  '\ud800',
  '👩🏽‍🌾',
  'ÄÖÜß',
  'İı',
  '../../x',
  'a'.repeat(5000),
  ' '.repeat(3000),
  '#',
  "'",
  '\\',
  '%s%n',
  '${x}',
  '<b>',
  '1e999',
  '2026-13-45T99:99:99Z',
  '2026-03-04T07:00:00',
  '0000-01-01T00:00:00Z',
  '9999-12-31T23:59:60Z',
  '2026-03-04T07:00:00.123456789Z',
  'fixed',
  'float',
  'tip',
  'EPSG:2049',
  'EPSG:4326',
  'EPSG:999999',
];

const BYTES = [0x00, 0xff, 0x22, 0x0a, 0x0d, 0x2c, 0x80, 0xc3, 0xed, 0xfe, 0x7f, 0x5b, 0x7b];

function spliced(bytes, from, to, put) {
  return Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(to)]);
}

/** Damage to bytes of any kind. */
export function mutateBytes(bytes, random) {
  const at = random.index(bytes.length + 1);
  switch (random.index(8)) {
    case 0: {
      const copy = Buffer.from(bytes);
      if (copy.length > 0) copy[at % copy.length] ^= 1 << random.index(8);
      return copy;
    }
    case 1:
      return spliced(bytes, at, Math.min(bytes.length, at + 1), Buffer.from([random.pick(BYTES)]));
    case 2:
      return spliced(bytes, at, at, Buffer.from(Array.from({ length: 1 + random.index(16) }, () => random.index(256))));
    case 3:
      return spliced(bytes, at, Math.min(bytes.length, at + 1 + random.index(64)), Buffer.alloc(0));
    case 4:
      return bytes.subarray(0, at);
    case 5: {
      const end = Math.min(bytes.length, at + 1 + random.index(200));
      return spliced(bytes, at, at, bytes.subarray(at, end));
    }
    case 6:
      return spliced(bytes, 0, 0, Buffer.from(random.pick([[0xef, 0xbb, 0xbf], [0xff, 0xfe], [0xfe, 0xff], [0x00]])));
    default:
      return Buffer.from(bytes.toString('latin1'), random.pick(['utf16le', 'latin1', 'utf8']));
  }
}

/** Damage that leaves a text a text: numbers, words, lines, line ends. */
export function mutateText(bytes, random) {
  const text = bytes.toString('utf8');
  const changed = (() => {
    switch (random.index(9)) {
      case 0:
        return replaceOne(text, /-?\d+(?:\.\d+)?/gu, random, () => random.pick(NUMBERS));
      case 1:
        return replaceOne(text, /[A-Za-z_]\w*/gu, random, () => random.pick(TEXTS));
      case 2:
        return replaceOne(text, /-?\d+(?:\.\d+)?/gu, random, (found) =>
          String(Number(found) * random.pick([-1, 10, 1e6, 0.001, 1.0000001])),
        );
      case 3:
        return lines(text, random, (list, i) => list.splice(i, 1));
      case 4:
        return lines(text, random, (list, i) => list.splice(random.index(list.length + 1), 0, list[i]));
      case 5:
        return lines(text, random, (list, i) => list.push(...list.splice(i, 1)));
      case 6:
        return text.replaceAll('\n', random.pick(['\r\n', '\r', '\n\n', '\n ', '']));
      case 7:
        return replaceOne(text, /[^\w\s]/gu, random, () =>
          random.pick([',', ';', '"', '\t', '=', '[', ']', '{', '}', "'", '.', '#', '*', '$']),
        );
      default:
        return replaceOne(text, /\w+/gu, random, (found) => found + random.pick(TEXTS));
    }
  })();
  return Buffer.from(changed, 'utf8');
}

function replaceOne(text, pattern, random, put) {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const match = random.pick(found);
  return text.slice(0, match.index) + put(match[0]) + text.slice(match.index + match[0].length);
}

function lines(text, random, change) {
  const list = text.split('\n');
  change(list, random.index(list.length));
  return list.join('\n');
}

/** Damage to a delimited table: cells, columns, quotes. */
export function mutateTable(bytes, random) {
  const rows = bytes
    .toString('utf8')
    .split('\n')
    .map((line) => line.split(','));
  const row = random.pick(rows);
  const column = random.index(rows[0].length);
  switch (random.index(6)) {
    case 0:
      row[column] = random.pick(NUMBERS);
      break;
    case 1:
      row[column] = random.pick(TEXTS);
      break;
    case 2:
      row[column] = `"${random.pick(TEXTS).replaceAll('"', '""')}"`;
      break;
    case 3:
      for (const each of rows) each.splice(column, 1);
      break;
    case 4:
      rows.forEach((each, i) => each.splice(column, 0, i === 0 ? random.pick(TEXTS) : random.pick(NUMBERS)));
      break;
    default:
      for (const each of rows) if (each.length > 1) each[column] = random.pick(NUMBERS);
  }
  return Buffer.from(rows.map((each) => each.join(',')).join('\n'), 'utf8');
}

/** Damage to a JSON document: any value, key or depth. */
export function mutateJson(bytes, random) {
  let document;
  try {
    document = JSON.parse(bytes.toString('utf8'));
  } catch {
    return mutateText(bytes, random);
  }
  const places = [];
  const walk = (value, depth) => {
    if (typeof value !== 'object' || value === null || depth > 50) return;
    for (const key of Object.keys(value)) {
      places.push([value, key]);
      walk(value[key], depth + 1);
    }
  };
  walk(document, 0);
  if (bytes.includes('[[[[[[[[[[[[')) return mutateText(bytes, random);
  if (places.length === 0) return mutateText(bytes, random);
  const [holder, key] = random.pick(places);
  const odd = [
    null,
    true,
    1e308,
    -0,
    5e-324,
    '',
    [],
    {},
    [[]],
    [null],
    Number(random.pick(['91', '-181', '1e300'])),
    random.pick(TEXTS),
    random.pick(NUMBERS),
  ];
  switch (random.index(5)) {
    case 0:
      delete holder[key];
      break;
    case 1:
      Object.defineProperty(holder, random.pick(TEXTS), {
        value: holder[key],
        enumerable: true,
        configurable: true,
        writable: true,
      });
      break;
    case 2:
      holder[key] = nested(random.pick([10, 1000, 20_000]));
      return Buffer.from(deepText(document), 'utf8');
    default:
      holder[key] = random.pick(odd);
  }
  return Buffer.from(JSON.stringify(document), 'utf8');
}

function nested(depth) {
  return { deep: depth };
}

/** The document with the marker of `nested` written out; JSON.stringify itself cannot go that deep. */
function deepText(document) {
  return JSON.stringify(document).replace(
    /\{"deep":(\d+)\}/u,
    (_, depth) => '['.repeat(Number(depth)) + ']'.repeat(Number(depth)),
  );
}

/** Damage to the numbers of a binary header. */
export function mutateBinary(bytes, random) {
  if (bytes.length < 16) return mutateBytes(bytes, random);
  const copy = Buffer.from(bytes);
  const head = random.chance(0.8) ? Math.min(copy.length, 400) : copy.length;
  const at = random.index(head - 8);
  switch (random.index(5)) {
    case 0:
      copy.writeUInt32BE(random.pick([0, 1, 0x7fffffff, 0xffffffff, 0x80000000, 65536, 100_000_000]), at);
      break;
    case 1:
      copy.writeUInt32LE(
        random.pick([0, 1, 0x7fffffff, 0xffffffff, 0x80000000, 65536, copy.length, copy.length - 1]),
        at,
      );
      break;
    case 2:
      copy.writeUInt16LE(random.pick([0, 1, 2, 5, 7, 8, 0xffff, 32773, 50000, 34887]), at);
      break;
    case 3:
      copy.writeDoubleBE(random.pick([0, -0, NaN, Infinity, 1e308, 5e-324, -91, 720, 1e-9]), at - (at % 8));
      break;
    default:
      copy.writeDoubleLE(random.pick([0, -0, NaN, Infinity, 1e308, 5e-324, -91, 720, 1e-9]), at);
  }
  return copy;
}

/** Damage to a log of NMEA sentences; half of the time the checksum is made right again. */
export function mutateNmea(bytes, random) {
  const damaged = random.pick([mutateText, mutateTable, mutateText, mutateBytes])(bytes, random);
  if (random.chance(0.3)) return damaged;
  const mended = damaged.toString('latin1').replaceAll(/\$([^*\r\n]*)\*[0-9a-f]{2}/giu, (_, body) => sentence(body));
  return Buffer.from(mended, 'latin1');
}

/** A sentence with its checksum. */
export function sentence(body) {
  let sum = 0;
  for (let i = 0; i < body.length; i += 1) sum ^= body.charCodeAt(i);
  return `$${body}*${(sum & 0xff).toString(16).toUpperCase().padStart(2, '0')}`;
}
