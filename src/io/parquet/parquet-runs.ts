/** What the header of a page of data says of the values in it. */
export interface PageOfRuns {
  readonly values: number;
  /** How values are laid out, by its number in the format. */
  readonly encoding: number;
  /** Of a page of the second version, whose levels stand before what is packed: their bytes, and how many values are none; else null. */
  readonly second: { readonly levelBytes: number; readonly nulls: number; readonly isPacked: boolean } | null;
}

/** What a column says of the values in its pages. */
export interface ColumnOfRuns {
  /** It may hold no value in a row: its pages have levels. */
  readonly isOptional: boolean;
  readonly isBoolean: boolean;
  /** Unpacks the bytes of a page. Given: them; how many they unpack to. Throws where they do not. */
  readonly unpack: (input: Uint8Array, bytes: number) => Uint8Array;
}

/** Numbers of the format, Encodings.md. */
const [PLAIN_DICTIONARY, RUNS, RUNS_OF_DICTIONARY] = [2, 3, 8];
/** Groups of eight may be filled up beyond the last value; no writer fills up more than a run of 64 groups. */
const MOST_FILLED_UP = 512;
const MOST_WIDTH = 32;

/**
 * What is wrong with the runs of values in a page of data; null: nothing. A run says how long it is, and whatever unpacks it would make
 * so many values, whether the page has them or not.
 *
 * Given: the bytes of the page as they stand in the file; how many they unpack to; its header; its column. Throws what `unpack` throws.
 * Reference: Apache Parquet format, Encodings.md, "Run Length Encoding / Bit-Packing Hybrid".
 */
export function faultOfRuns(
  bytes: Uint8Array,
  unpackedBytes: number,
  { values, encoding, second }: PageOfRuns,
  { isOptional, isBoolean, unpack }: ColumnOfRuns,
): string | null {
  if (values === 0) return null;
  const hasRuns = [PLAIN_DICTIONARY, RUNS, RUNS_OF_DICTIONARY].includes(encoding);
  let given = values;
  let packed = bytes;
  let from = 0;
  if (second !== null) {
    const { levelBytes, nulls } = second;
    if (levelBytes < 0 || levelBytes > bytes.length) return `levels of ${String(levelBytes)} bytes`;
    if (isOptional) {
      const levels = readRuns(bytes, 0, levelBytes, 1, values);
      if (typeof levels === 'string') return levels;
      given = levels;
    }
    if (given !== values - nulls) return `${String(values - given)} empty values where ${String(nulls)} are said`;
    packed = bytes.subarray(levelBytes);
    if (!hasRuns) return null;
    if (second.isPacked) packed = unpack(packed, unpackedBytes - levelBytes);
  } else {
    if (!isOptional && !hasRuns) return null;
    packed = unpack(packed, unpackedBytes);
    if (isOptional) {
      const to = endOfLength(packed, 0);
      const levels = readRuns(packed, 4, to, 1, values);
      if (typeof levels === 'string') return levels;
      given = levels;
      from = to;
    }
  }
  return hasRuns ? faultOfValues(packed, from, given, isBoolean, second !== null) : null;
}

/** Values in runs, of a dictionary or true and false, which have their length before them. */
function faultOfValues(
  bytes: Uint8Array,
  from: number,
  given: number,
  isBoolean: boolean,
  isSecond: boolean,
): string | null {
  if (given === 0) return null;
  if (isBoolean) {
    const runs = readRuns(bytes, from + 4, endOfLength(bytes, from), 1, given);
    return typeof runs === 'string' ? runs : null;
  }
  // A page that ends before its width has none, and then no run either.
  const width = bytes[from] ?? MOST_WIDTH + 1;
  if (width > MOST_WIDTH) return `numbers of ${String(width)} bits`;
  // Numbers of no bits are all 0; only the second version has runs of them.
  if (width === 0 && !isSecond) return null;
  const runs = readRuns(bytes, from + 1, bytes.length, width, given);
  return typeof runs === 'string' ? runs : null;
}

/** Where runs end that say their length in four bytes first, low byte first. */
function endOfLength(bytes: Uint8Array, from: number): number {
  const byte = (place: number): number => bytes[from + place] ?? Number.NaN;
  return from + 4 + byte(0) + byte(1) * 2 ** 8 + byte(2) * 2 ** 16 + byte(3) * 2 ** 24;
}

/**
 * Passes over the runs of so many values. Returned: how many of the values are 1, where they have one bit; else what is wrong with the
 * runs. `to`: where they end; NaN: nowhere.
 */
function readRuns(bytes: Uint8Array, from: number, to: number, width: number, count: number): number | string {
  if (!(to <= bytes.length)) return `runs up to byte ${String(to)} of ${String(bytes.length)}`;
  let at = from;
  let seen = 0;
  let ones = 0;
  while (seen < count) {
    const left = count - seen;
    const head = readHead(bytes, at, to);
    if (head === null) return `runs of ${String(seen)} values where ${String(count)} are said`;
    at = head.at;
    const isPacked = head.value % 2 === 1;
    const length = isPacked ? ((head.value - 1) / 2) * 8 : head.value / 2;
    if (length > left + (isPacked ? MOST_FILLED_UP : 0))
      return `a run of ${String(length)} values where ${String(left)} are left`;
    const own = Math.min(length, left);
    if (width === 1) ones += isPacked ? onesOf(bytes, at, own) : bytes[at] === 1 ? own : 0;
    at += isPacked ? (length / 8) * width : (width + 7) >> 3;
    seen += own;
  }
  return ones;
}

/** The head of a run, seven bits a byte, and where its values begin; null: it is not there. */
function readHead(bytes: Uint8Array, from: number, to: number): { readonly value: number; readonly at: number } | null {
  let value = 0;
  for (let index = 0; index < 5 && from + index < to; index += 1) {
    const byte = bytes[from + index] as number;
    value += (byte & 0x7f) * 2 ** (7 * index);
    if (byte < 0x80) return { value, at: from + index + 1 };
  }
  return null;
}

/** How many of the first so many bits are set, the lowest of each byte first. */
function onesOf(bytes: Uint8Array, from: number, count: number): number {
  let ones = 0;
  // A byte that is not there sets none: whatever unpacks the page says so.
  for (let bit = 0; bit < count; bit += 1) ones += ((bytes[from + (bit >> 3)] ?? 0) >> (bit & 7)) & 1;
  return ones;
}
