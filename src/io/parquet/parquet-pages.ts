import { faultOfRuns } from './parquet-runs.js';
import type { ColumnOfRuns, PageOfRuns } from './parquet-runs.js';

/** What a page says of itself before its bytes; absent: null. */
interface PageHeader {
  /** Bytes of the header itself. */
  readonly length: number;
  readonly unpackedBytes: number;
  readonly packedBytes: number;
  /** Values of a page of data, or of a dictionary. */
  readonly values: number | null;
  readonly isDictionary: boolean;
  /** Of a page of data: how its values are laid out. */
  readonly runs: PageOfRuns | null;
}

/** What is known of a column of a row group. */
export interface ColumnChunk extends ColumnOfRuns {
  readonly bytes: Uint8Array;
  /** Rows of the group, each of which has one value. */
  readonly rows: number;
  /** Bytes that its pages unpack to, with their headers, as the file says. */
  readonly unpackedBytes: number;
}

type Fields = ReadonlyMap<number, number | Fields>;

/**
 * What is wrong with the pages of a column by what they say of themselves; null: nothing. A page that is damaged may say any number, and
 * whatever unpacks it would make so many values, or bytes, before it finds out that they are not there.
 * Reference: Apache Parquet format, PageHeader; Apache Thrift, compact protocol.
 */
export function faultOfPages(chunk: ColumnChunk): string | null {
  const { bytes, rows, unpackedBytes } = chunk;
  let at = 0;
  let values = 0;
  let unpacked = 0;
  while (at < bytes.length && values < rows) {
    const header = pageHeader(bytes, at);
    if (header === null) return `the header of a page at byte ${String(at)} of its column is none`;
    const { length, packedBytes } = header;
    unpacked += length + header.unpackedBytes;
    at += length + packedBytes;
    if (packedBytes < 0 || header.unpackedBytes < 0 || at > bytes.length)
      return `a page of ${String(packedBytes)} bytes, which its column has not`;
    if (unpacked > unpackedBytes) return `pages of ${String(unpacked)} bytes in a column of ${String(unpackedBytes)}`;
    if (header.values === null) continue;
    if (header.values < 0) return `a page of ${String(header.values)} values`;
    // A value of a dictionary takes a byte at least.
    if (header.isDictionary && header.values > header.unpackedBytes)
      return `a dictionary of ${String(header.values)} values in ${String(header.unpackedBytes)} bytes`;
    if (header.isDictionary) continue;
    values += header.values;
    if (values > rows) return `pages of ${String(values)} values in a group of ${String(rows)} rows`;
    const fault =
      header.runs === null
        ? null
        : faultOfRuns(bytes.subarray(at - packedBytes, at), header.unpackedBytes, header.runs, chunk);
    if (fault !== null) return `${fault}, in the page that ends at byte ${String(at)} of its column`;
  }
  return null;
}

const DICTIONARY_PAGE = 2;

/** The header that begins at a byte; null: none does. */
function pageHeader(bytes: Uint8Array, from: number): PageHeader | null {
  const reader = { bytes, at: from };
  const fields = structOf(reader, 0);
  const [type, unpackedBytes, packedBytes] = [1, 2, 3].map((id) => fields?.get(id));
  if (fields === null || typeof type !== 'number' || typeof unpackedBytes !== 'number') return null;
  if (typeof packedBytes !== 'number') return null;
  const isDictionary = type === DICTIONARY_PAGE;
  // Of a page of data of either version, else of a dictionary.
  const own = isDictionary ? fields.get(7) : (fields.get(5) ?? fields.get(8));
  const said = (id: number): number | null => {
    const value = own instanceof Map ? (own as Fields).get(id) : undefined;
    return typeof value === 'number' ? value : null;
  };
  const values = said(1);
  return {
    length: reader.at - from,
    unpackedBytes,
    packedBytes,
    values,
    isDictionary,
    runs: values === null || isDictionary ? null : runsOf(values, !fields.has(5), said),
  };
}

/** How the values of a page of data are laid out, of either version. */
function runsOf(values: number, isSecond: boolean, said: (id: number) => number | null): PageOfRuns {
  const PLAIN = 0;
  // What a header leaves out is nothing, and what unpacks it takes it so; packed is what does not say otherwise.
  const number = (id: number): number => said(id) ?? PLAIN;
  if (!isSecond) return { values, encoding: number(2), second: null };
  return {
    values,
    encoding: number(4),
    second: { levelBytes: number(5) + number(6), nulls: number(2), isPacked: said(7) !== 0 },
  };
}

interface Reader {
  readonly bytes: Uint8Array;
  at: number;
}

const [STOP, TRUE, FALSE, BYTE, I16, I32, I64, DOUBLE, BINARY, LIST, STRUCT] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 12];
/** Structures within each other; a header has three. */
const MOST_DEEP = 8;

/** The whole numbers of a structure by the numbers of their fields, 1 and 0 for true and false, and its structures; null where its bytes are none. */
function structOf(reader: Reader, depth: number): Fields | null {
  const fields = new Map<number, number | Fields>();
  let id = 0;
  while (depth < MOST_DEEP) {
    const byte = reader.bytes[reader.at];
    reader.at += 1;
    if (byte === undefined) return null;
    const type = byte & 0x0f;
    if (type === STOP) return fields;
    const step = byte >> 4;
    if (step > 0) id += step;
    else {
      const said = wholeNumber(reader);
      if (said === null) return null;
      id = zigzag(said);
    }
    const value = elementOf(reader, type, depth);
    if (value === null) return null;
    fields.set(id, value);
  }
  return null;
}

/** An element: a whole number or a structure, 1 or 0 for true or false, 0 for one of another type, which is passed over; null where its bytes are none. */
function elementOf(reader: Reader, type: number, depth: number): number | Fields | null {
  switch (type) {
    case TRUE:
      return 1;
    case FALSE:
      return 0;
    case BYTE:
      reader.at += 1;
      return 0;
    case DOUBLE:
      reader.at += 8;
      return 0;
    case I16:
    case I32:
    case I64: {
      const said = wholeNumber(reader);
      return said === null ? null : zigzag(said);
    }
    case BINARY: {
      const length = wholeNumber(reader);
      if (length === null) return null;
      reader.at += length;
      return reader.at <= reader.bytes.length ? 0 : null;
    }
    case LIST:
      return listOf(reader, depth);
    case STRUCT:
      return structOf(reader, depth + 1);
    default:
      return null;
  }
}

/** Passes over a list; null where its bytes are none. */
function listOf(reader: Reader, depth: number): 0 | null {
  const head = reader.bytes[reader.at];
  reader.at += 1;
  if (head === undefined) return null;
  const count = head >> 4 === 15 ? wholeNumber(reader) : head >> 4;
  const own = head & 0x0f;
  // Each element of a list takes a byte at least, one that is true or false too.
  const type = own === TRUE || own === FALSE ? BYTE : own;
  if (count === null || count > reader.bytes.length - reader.at) return null;
  for (let index = 0; index < count; index += 1) if (elementOf(reader, type, depth + 1) === null) return null;
  return 0;
}

/** The most bytes of a number of 64 bits, seven bits each. */
const MOST_NUMBER_BYTES = 10;

function wholeNumber(reader: Reader): number | null {
  let value = 0;
  for (let index = 0; index < MOST_NUMBER_BYTES; index += 1) {
    const byte = reader.bytes[reader.at];
    reader.at += 1;
    if (byte === undefined) return null;
    value += (byte & 0x7f) * 2 ** (7 * index);
    if (byte < 0x80) return value;
  }
  return null;
}

function zigzag(value: number): number {
  return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
}
