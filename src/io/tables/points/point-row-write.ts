import { Buffer } from 'node:buffer';
import { InternalError } from '../../../records/internal-error.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { createCsvWriter } from '../../csv/csv-write.js';
import type { CsvWriteOptions } from '../../csv/csv-write.js';
import type { ColumnKind, ColumnValue } from '../columns/column.js';
import { WAY } from '../../host/way.js';
import { MOST_FIXED_BYTES, NO_NUMBER, writeAscii, writeFixedCells, writeWhole } from '../../text/write-digits.js';
import { needsQuotes, writeText } from '../../text/write-text.js';
import { createUtcWriter } from '../../text/write-utc.js';
import { createNumberTaker, createTextTaker, MOST_NUMBERS, MOST_TEXTS } from '../columns/value-takers.js';
import type { Get } from '../columns/value-takers.js';
import { pointCells } from './point-cells.js';
import { pointColumns } from './point-columns.js';

/** Gathers rows of a points file as bytes. */
export interface PointRowWriter {
  readonly add: (point: ReducedPoint) => void;
  /** Position among the bytes waiting of the last row's occupation; −1 where the row needed quotes. */
  readonly lastOccupationAt: () => number;
  /** Bytes waiting. */
  readonly size: () => number;
  /** Hands over what waits. It stays as it is until the second `take` after this one, or for good where `into` gave the memory. */
  readonly take: () => Buffer;
  /** Has what follows written into this memory, or larger memory in its place, until the next `take`. Only while nothing waits. */
  readonly into: (room: Buffer) => void;
}

/** A column as it is written, or several of numbers that follow each other. */
interface ColumnRun {
  readonly kind: 'numbers' | 'time' | 'whole' | 'free' | 'word' | 'codes';
  /** Where the values of the columns begin: among the numbers of a row, or among its texts. */
  readonly from: number;
  readonly decimals: number[];
  readonly isOccupation: boolean;
}

/** How a row is written, and how its values are taken. */
interface RowPlan {
  readonly runs: readonly ColumnRun[];
  readonly numbers: readonly Get<ReducedPoint>[];
  readonly texts: readonly Get<ReducedPoint>[];
}

const COMMA = 0x2c;
const SEMICOLON = 0x3b;
const ROOM_BYTES = 1 << 18;

/**
 * A writer of the rows that `createCsvWriter` makes of `pointCells`, straight to bytes: a million points of forty numbers
 * would be forty million strings. A row in which a text needs quotes is written by those two. A property test holds the
 * ways together.
 */
export function createPointRowWriter(names: readonly string[], options: CsvWriteOptions): PointRowWriter {
  const delimiter = options.delimiter.charCodeAt(0);
  const isCrlf = options.eol === '\r\n';
  const isPlainForm = WAY !== 'general' && delimiter === COMMA && options.isSpreadsheetSafe !== true;
  const quoting = createCsvWriter(names, options);
  const writeUtc = createUtcWriter();
  const plan = planRow();
  const takeNumbers = createNumberTaker(plan.numbers);
  const takeTexts = createTextTaker(plan.texts);
  const values = new Float64Array(MOST_NUMBERS);
  const texts: ColumnValue[] = Array.from({ length: MOST_TEXTS }, () => null);
  const runs = plan.runs.map(({ decimals, ...run }) => ({
    ...run,
    decimals: Uint8Array.from(decimals),
    values: values.subarray(run.from, run.from + decimals.length),
  }));
  const frees = runs.filter(({ kind }) => kind === 'free').map(({ from }) => from);
  /** Room for every number and word of a row; texts of the input come on top. */
  const rowBytes = 2 * MOST_FIXED_BYTES * (plan.numbers.length + plan.texts.length);
  let bytes: Buffer = Buffer.allocUnsafeSlow(ROOM_BYTES + rowBytes);
  let spare: Buffer | null = null;
  /** The writer's own memory, while it writes into other memory. */
  let own: Buffer | null = null;
  let at = 0;
  let occupationAt = -1;
  /** The last time written in the row, and where it stands. */
  let lastMs = NaN;
  let lastTimeAt = 0;
  let lastTimeEnd = 0;

  /** Makes room for one more row. */
  function reserve(extra: number): void {
    if (at + extra <= bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (at + extra));
    bytes.copy(larger, 0, 0, at);
    bytes = larger;
  }

  function text(value: ColumnValue): void {
    if (value !== null) at = writeText(bytes, at, value as string);
  }

  /** A point of one epoch has one time twice: it is copied. */
  function time(ms: number): void {
    if (ms === NO_NUMBER) return;
    if (ms === lastMs) {
      for (let from = lastTimeAt; from < lastTimeEnd; from += 1) bytes[at++] = bytes[from] as number;
      return;
    }
    lastMs = ms;
    lastTimeAt = at;
    at = writeUtc(bytes, at, ms);
    lastTimeEnd = at;
  }

  function codes(list: readonly string[]): void {
    for (let index = 0; index < list.length; index += 1) {
      if (index > 0) bytes[at++] = SEMICOLON;
      at = writeAscii(bytes, at, list[index] as string);
    }
  }

  function quoted(point: ReducedPoint): void {
    const row = quoting.rows([pointCells(point)]);
    reserve(3 * row.length);
    at = writeText(bytes, at, row);
  }

  return {
    lastOccupationAt: () => occupationAt,
    size: () => at,
    into(room) {
      own = bytes;
      bytes = room;
    },
    take() {
      const taken = bytes.subarray(0, at);
      at = 0;
      if (own !== null) {
        bytes = own;
        own = null;
        return taken;
      }
      const other = spare ?? Buffer.allocUnsafeSlow(ROOM_BYTES + rowBytes);
      spare = bytes;
      bytes = other;
      return taken;
    },
    add(point) {
      const { passThrough } = point;
      takeTexts(point, texts);
      let characters = 0;
      let isPlain = isPlainForm;
      for (let index = 0; index < frees.length; index += 1) {
        const free = texts[frees[index] as number] as string | null;
        if (free === null) continue;
        characters += free.length;
        isPlain &&= !needsQuotes(free, delimiter);
      }
      // By index: a frozen list is slow to walk otherwise.
      for (let index = 0; index < passThrough.length; index += 1) {
        const carried = passThrough[index] as string;
        characters += carried.length + 1;
        isPlain &&= !needsQuotes(carried, delimiter);
      }
      if (!isPlain) {
        quoted(point);
        occupationAt = -1;
        return;
      }
      reserve(rowBytes + 3 * characters);
      takeNumbers(point, values);
      lastMs = NaN;
      for (let index = 0; index < runs.length; index += 1) {
        const run = runs[index] as (typeof runs)[number];
        const { kind, from } = run;
        if (kind === 'numbers') {
          at = writeFixedCells(bytes, at, run.values, run.decimals, delimiter);
          continue;
        }
        if (run.isOccupation) occupationAt = at;
        if (kind === 'free' || kind === 'word') text(texts[from] as ColumnValue);
        else if (kind === 'codes') codes(texts[from] as readonly string[]);
        else {
          const value = values[from] as number;
          if (kind === 'time') time(value);
          else if (value !== NO_NUMBER) at = writeWhole(bytes, at, value);
        }
        bytes[at++] = delimiter;
      }
      for (let index = 0; index < passThrough.length; index += 1) {
        at = writeText(bytes, at, passThrough[index] as string);
        bytes[at++] = delimiter;
      }
      // The line end takes the place of the last delimiter.
      at -= 1;
      if (isCrlf) bytes[at++] = 0x0d;
      bytes[at++] = 0x0a;
    },
  };
}

/** The columns of points as they are written: numbers that follow each other in one go. */
function planRow(): RowPlan {
  const runs: ColumnRun[] = [];
  const numbers: Get<ReducedPoint>[] = [];
  const texts: Get<ReducedPoint>[] = [];
  for (const { name, kind: column, decimals, get } of pointColumns(['', ''])) {
    if (get === null) throw new InternalError(`the column ${name} is not written`);
    const kind = runKind(column);
    const last = runs.at(-1);
    const taken = kind === 'free' || kind === 'word' || kind === 'codes' ? texts : numbers;
    if (kind === 'numbers' && last?.kind === 'numbers') last.decimals.push(decimals);
    else runs.push({ kind, from: taken.length, decimals: [decimals], isOccupation: name === 'occupation' });
    taken.push(get);
  }
  return { runs, numbers, texts };
}

function runKind(kind: ColumnKind): ColumnRun['kind'] {
  switch (kind) {
    case 'id':
    case 'text':
      return 'free';
    case 'word':
    case 'codes':
    case 'time':
    case 'whole':
      return kind;
    case 'number':
    case 'latitude':
    case 'longitude':
    case 'direction':
    case 'angle':
      return 'numbers';
    case 'yes-no':
      throw new InternalError('points have no column of yes and no');
  }
}
