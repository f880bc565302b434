import { Buffer } from 'node:buffer';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { InternalError } from '../../../records/internal-error.js';
import { createCsvWriter } from '../../csv/csv-write.js';
import type { CsvWriteOptions } from '../../csv/csv-write.js';
import { WAY } from '../../host/way.js';
import {
  digitRoom,
  MOST_FIXED_BYTES,
  NO_NUMBER,
  writeAscii,
  writeFixedCells,
  writeWhole,
} from '../../text/write-digits.js';
import { needsQuotes, writeText } from '../../text/write-text.js';
import { createUtcWriter } from '../../text/write-utc.js';
import type { WrittenColumn } from '../columns/cells/cell-text.js';
import type { ColumnKind, ColumnValue } from '../columns/column.js';
import { AS_GIVEN } from '../columns/cells/decimals.js';
import { createNumberTaker, createTextTaker, MOST_NUMBERS, MOST_TEXTS } from '../columns/cells/value-takers.js';
import type { Get } from '../columns/cells/value-takers.js';

/** Gathers rows of a CSV table as bytes. */
export interface RowByteWriter<Of> {
  readonly add: (of: Of) => void;
  /** Position among the bytes waiting of the last row's cell of the marked column; −1 where the row needed quotes. */
  readonly lastMarkedAt: () => number;
  /** Bytes waiting. */
  readonly size: () => number;
  /** Hands over what waits. It stays as it is until the second `take` after this one, or for good where `into` gave the memory. */
  readonly take: () => Buffer;
  /** Has what follows written into this memory, or larger memory in its place, until the next `take`. Only while nothing waits. */
  readonly into: (memory: Buffer) => void;
}

/** A table whose rows are written in bytes. */
export interface RowByteTable<Of> {
  /** Names of all columns, those of the input too. */
  readonly names: readonly string[];
  readonly columns: readonly WrittenColumn<Of>[];
  /** Cells of the input that come after them. */
  readonly carriedOf: (of: Of) => readonly string[];
  /** All cells of a row as text, where one of them needs quotes. */
  readonly cellsOf: (of: Of) => readonly string[];
  /** The column whose cell `lastMarkedAt` finds; null: none. */
  readonly marked: string | null;
}

/** A column as it is written, or several of numbers that follow each other. */
interface ColumnRun {
  readonly kind: 'numbers' | 'time' | 'whole' | 'free' | 'word' | 'codes';
  /** Where the values of the columns begin: among the numbers of a row, or among its texts. */
  readonly from: number;
  readonly decimals: number[];
  readonly isMarked: boolean;
}

/** How a row is written, and how its values are taken. */
interface RowPlan<Of> {
  readonly runs: readonly ColumnRun[];
  readonly numbers: readonly Get<Of>[];
  readonly texts: readonly Get<Of>[];
}

const COMMA = 0x2c;
const SEMICOLON = 0x3b;
const ROOM_BYTES = 1 << 18;

/** No cells of the input. */
export const NONE_CARRIED: readonly string[] = Object.freeze([]);

/**
 * A writer of the rows that `createCsvWriter` makes of `createCellTexts` in decimal degrees, straight to bytes: a million
 * points of forty numbers would be forty million strings. A row in which a text needs quotes is written by those two. Property
 * tests hold the ways together.
 */
export function createRowByteWriter<Of>(table: RowByteTable<Of>, options: CsvWriteOptions): RowByteWriter<Of> {
  const { carriedOf, cellsOf } = table;
  const delimiter = options.delimiter.charCodeAt(0);
  const isCrlf = options.eol === '\r\n';
  const isPlainForm = WAY !== 'general' && delimiter === COMMA && options.isSpreadsheetSafe !== true;
  const quoting = createCsvWriter(table.names, options);
  const writeUtc = createUtcWriter();
  const plan = planRow(table);
  const takeNumbers = createNumberTaker(plan.numbers);
  const takeTexts = createTextTaker(plan.texts);
  const values = new Float64Array(MOST_NUMBERS);
  const texts: ColumnValue[] = Array.from({ length: MOST_TEXTS }, () => null);
  const runs = plan.runs.map(({ decimals, ...run }) => ({
    ...run,
    decimals: Uint8Array.from(decimals),
    values: values.subarray(run.from, run.from + decimals.length),
  }));
  const lengthOf = createTextLook(
    runs.filter(({ kind }) => kind === 'free').map(({ from }) => from),
    delimiter,
  );
  /** Room for every number and word of a row; texts of the input come on top. */
  const rowBytes = 2 * MOST_FIXED_BYTES * (plan.numbers.length + plan.texts.length);
  let bytes: Buffer = Buffer.allocUnsafeSlow(ROOM_BYTES + rowBytes);
  let room = digitRoom(bytes);
  let spare: Buffer | null = null;
  /** The writer's own memory, while it writes into other memory. */
  let own: Buffer | null = null;
  let at = 0;
  let markedAt = -1;
  /** The last time written in the row, and where it stands. */
  let lastMs = NaN;
  let lastTimeAt = 0;
  let lastTimeEnd = 0;

  function writeInto(memory: Buffer): void {
    bytes = memory;
    room = digitRoom(memory);
  }

  /** Makes room for one more row. */
  function reserve(extra: number): void {
    if (at + extra <= bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (at + extra));
    bytes.copy(larger, 0, 0, at);
    writeInto(larger);
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

  function codes(list: readonly string[] | null): void {
    if (list === null) return;
    for (let index = 0; index < list.length; index += 1) {
      if (index > 0) bytes[at++] = SEMICOLON;
      at = writeAscii(bytes, at, list[index] as string);
    }
  }

  function quoted(of: Of): void {
    const row = quoting.rows([cellsOf(of)]);
    reserve(3 * row.length);
    at = writeText(bytes, at, row);
  }

  return {
    lastMarkedAt: () => markedAt,
    size: () => at,
    into(memory) {
      own = bytes;
      writeInto(memory);
    },
    take() {
      const taken = bytes.subarray(0, at);
      at = 0;
      if (own !== null) {
        writeInto(own);
        own = null;
        return taken;
      }
      const other = spare ?? Buffer.allocUnsafeSlow(ROOM_BYTES + rowBytes);
      spare = bytes;
      writeInto(other);
      return taken;
    },
    add(of) {
      const carried = carriedOf(of);
      takeTexts(of, texts);
      const characters = isPlainForm ? lengthOf(texts, carried) : NEEDS_QUOTES;
      if (characters === NEEDS_QUOTES) {
        quoted(of);
        markedAt = -1;
        return;
      }
      reserve(rowBytes + 3 * characters);
      takeNumbers(of, values);
      lastMs = NaN;
      for (let index = 0; index < runs.length; index += 1) {
        const run = runs[index] as (typeof runs)[number];
        const { kind, from } = run;
        if (kind === 'numbers') {
          at = writeFixedCells(room, at, run.values, run.decimals, delimiter);
          continue;
        }
        if (run.isMarked) markedAt = at;
        if (kind === 'free' || kind === 'word') text(texts[from] as ColumnValue);
        else if (kind === 'codes') codes(texts[from] as readonly string[] | null);
        else {
          const value = values[from] as number;
          if (kind === 'time') time(value);
          else if (value !== NO_NUMBER) at = writeWhole(room, at, value);
        }
        bytes[at++] = delimiter;
      }
      for (let index = 0; index < carried.length; index += 1) {
        at = writeText(bytes, at, carried[index] as string);
        bytes[at++] = delimiter;
      }
      // The line end takes the place of the last delimiter.
      at -= 1;
      if (isCrlf) bytes[at++] = 0x0d;
      bytes[at++] = 0x0a;
    },
  };
}

/** No row has so many characters. */
const NEEDS_QUOTES = -1;

/** Counts the characters of the free texts and the carried cells of a row; `NEEDS_QUOTES` where one of them does. */
function createTextLook(
  frees: readonly number[],
  delimiter: number,
): (texts: readonly ColumnValue[], carried: readonly string[]) => number {
  return (texts, carried) => {
    let characters = 0;
    for (let index = 0; index < frees.length; index += 1) {
      const free = texts[frees[index] as number] as string | null;
      if (free === null) continue;
      if (needsQuotes(free, delimiter)) return NEEDS_QUOTES;
      characters += free.length;
    }
    // By index: a frozen list is slow to walk otherwise.
    for (let index = 0; index < carried.length; index += 1) {
      const cell = carried[index] as string;
      if (needsQuotes(cell, delimiter)) return NEEDS_QUOTES;
      characters += cell.length + 1;
    }
    return characters;
  };
}

/** The columns as they are written: numbers that follow each other in one go. */
function planRow<Of>({ columns, marked }: RowByteTable<Of>): RowPlan<Of> {
  const runs: ColumnRun[] = [];
  const numbers: Get<Of>[] = [];
  const texts: Get<Of>[] = [];
  for (const { name, kind: column, decimals, get } of columns) {
    if (get === null) throw new InternalError(`the column ${name} is not written`);
    if (decimals === AS_GIVEN) throw new InternalError(`the column ${name} has no fixed decimals`);
    const kind = runKind(column);
    const last = runs.at(-1);
    const taken = kind === 'free' || kind === 'word' || kind === 'codes' ? texts : numbers;
    if (kind === 'numbers' && last?.kind === 'numbers') last.decimals.push(decimals);
    else runs.push({ kind, from: taken.length, decimals: [decimals], isMarked: name === marked });
    taken.push(column === 'direction' ? belowFullTurn(get as (of: Of) => number | null, decimals) : get);
  }
  return { runs, numbers, texts };
}

/** A direction as written lies below 360. */
function belowFullTurn<Of>(get: (of: Of) => number | null, decimals: number): Get<Of> {
  return (of) => {
    const value = get(of);
    return value !== null && value > 359 && formatFixed(value, decimals).startsWith('360') ? 0 : value;
  };
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
      throw new InternalError('no table of yes and no is written in bytes');
  }
}
