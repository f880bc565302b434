import { angleReader } from '../../../../core/numeric/text/angle-form.js';
import type { AngleReader } from '../../../../core/numeric/text/angle-form.js';
import { parseUtc } from '../../../../core/numeric/text/parse-utc.js';
import { timeForm } from '../../../../core/numeric/text/time-form.js';
import { InternalError } from '../../../../records/internal-error.js';
import type { ColumnReading } from '../../../../records/settings/column-reading.js';
import type { FoundColumn, RowCells } from '../../../csv/cell-read.js';
import type { ColumnKind, ColumnRange, DescribedColumn } from '../column.js';
import { angleWriting, lengthFactor, zoneOf } from './file-cells.js';
import type { CellRead } from './value-takers.js';

const ANY: ColumnRange = [-Infinity, Infinity];

/**
 * A reader of cells that are in a unit, words or form of their own. Made once a table: rows of columns of which nothing is said do
 * not come here. Problems keep the cell as it stands in the file, with its unit.
 */
export function fileCellRead(
  column: DescribedColumn,
  at: FoundColumn,
  reading: ColumnReading,
  cells: RowCells,
): CellRead {
  switch (column.kind) {
    case 'number':
      return reading.unit === 'gon' || reading.unit === 'rad' || reading.unit === 'dms'
        ? angle(column, at, reading, cells)
        : length(column, at, reading, cells);
    case 'latitude':
    case 'longitude':
    case 'direction':
    case 'angle':
      return angle(column, at, reading, cells);
    case 'time':
      return time(at, reading, cells);
    case 'word':
      return words(column, at, reading, cells);
    default:
      throw new InternalError(`${column.name} has no unit`);
  }
}

/** Kinds whose cells may be in a unit, words or form of their own. */
const KINDS: ReadonlySet<ColumnKind> = new Set<ColumnKind>([
  'number',
  'latitude',
  'longitude',
  'direction',
  'angle',
  'time',
  'word',
]);

/** Whether a reading says more than where the column is. */
export function saysCells(column: DescribedColumn, reading: ColumnReading | null): reading is ColumnReading {
  return reading !== null && KINDS.has(column.kind);
}

/** The text of a cell, or of two with a space between; empty when both are. */
function textRead(at: FoundColumn, cells: RowCells): () => string {
  const { second } = at;
  if (second === null) return () => cells.raw(at).trim();
  const other: FoundColumn = { ...at, index: second, second: null };
  return () => `${cells.raw(at).trim()} ${cells.raw(other).trim()}`.trim();
}

function length(column: DescribedColumn, at: FoundColumn, reading: ColumnReading, cells: RowCells): CellRead {
  const factor = lengthFactor(column.name, reading);
  const [least, most] = column.range ?? ANY;
  // No unit of its own: that of the name.
  const unit = reading.unit ?? '';
  const ours = column.name.slice(column.name.lastIndexOf('_') + 1);
  return () => {
    const read = column.isFilled ? cells.requiredNumber(at) : cells.optionalNumber(at);
    if (read === null) return null;
    const value = read * factor;
    if (value >= least && value <= most) return value;
    const text = cells.raw(at).trim();
    cells.report(
      'value-out-of-range',
      at,
      `${spaced(text, unit)} is outside ${String(least)}..${String(most)} ${ours}`,
      UNIT_HINT,
      text,
    );
    return null;
  };
}

const UNIT_HINT = 'check the value, and the unit that [columns] says of it';

function spaced(text: string, unit: string): string {
  return unit === '' ? text : `${text} ${unit}`;
}

function angle(column: DescribedColumn, at: FoundColumn, reading: ColumnReading, cells: RowCells): CellRead {
  const { kind } = column;
  const axis = kind === 'latitude' || kind === 'longitude' ? kind : 'any';
  const [least, most] = axis === 'latitude' ? [-90, 90] : axis === 'longitude' ? [-180, 360] : (column.range ?? ANY);
  const writing = angleWriting(reading);
  const read: AngleReader = angleReader(writing, axis, cells.decimalComma);
  const textOf = textRead(at, cells);
  const unit = writing === 'deg' || writing === 'gon' || writing === 'rad' ? writing : '';
  return () => {
    const text = textOf();
    if (text === '') {
      if (column.isFilled)
        cells.report('value-missing', at, 'is empty and needed', 'fill the cell, or leave the row out');
      return null;
    }
    const value = read(text);
    if (value === null) {
      cells.report(
        'angle-syntax',
        at,
        `"${text}" cannot be read as an angle in ${writing === 'dms' ? 'degrees, minutes and seconds' : writing}`,
        UNIT_HINT,
        text,
      );
      return null;
    }
    if (value < least || value > most) {
      const code = axis === 'any' ? 'value-out-of-range' : (`${axis}-out-of-range` as const);
      cells.report(code, at, `${spaced(text, unit)} is outside ${String(least)}..${String(most)} deg`, UNIT_HINT, text);
      return null;
    }
    return axis === 'longitude' && value > 180 ? value - 360 : value;
  };
}

function time(at: FoundColumn, reading: ColumnReading, cells: RowCells): CellRead {
  const { form } = reading;
  // GPS time without leap seconds is refused: see `file-cells.ts`.
  const leapSeconds = reading.scale === 'gps' ? (reading.leapSeconds ?? 0) : 0;
  const zoneMinutes = zoneOf(reading);
  const made = form === undefined ? null : timeForm(form);
  const readForm = made?.isForm === true ? made.reader({ zoneMinutes, leapSeconds }) : null;
  const textOf = textRead(at, cells);
  const expected = form ?? 'an ISO 8601 time';
  return () => {
    const text = textOf();
    if (text === '') return null;
    const ms = readForm === null ? isoMs(text, zoneMinutes, leapSeconds) : readForm(text);
    if (ms !== null) return ms;
    cells.report(
      'time-syntax',
      at,
      `"${text}" is not ${form === undefined ? expected : `of the form ${expected}`}`,
      'check the cell, and the form that [columns] says of it',
      text,
    );
    return null;
  };
}

/** Without a form: ISO 8601, with the zone stated by the cell or by the reading, not by both. */
function isoMs(text: string, zoneMinutes: number | null, leapSeconds: number): number | null {
  const stated = parseUtc(text);
  if (typeof stated === 'number') return zoneMinutes === null ? stated - leapSeconds * 1000 : null;
  if (stated !== 'zone') return null;
  const local = parseUtc(`${text}Z`);
  if (typeof local !== 'number' || (zoneMinutes === null && leapSeconds === 0)) return null;
  // A time without a zone is UTC, or GPS time before its leap seconds.
  return local - (zoneMinutes ?? 0) * 60_000 - leapSeconds * 1000;
}

function words({ words: own }: DescribedColumn, at: FoundColumn, reading: ColumnReading, cells: RowCells): CellRead {
  if (own === undefined) return () => cells.text(at);
  const all = new Map(own);
  for (const [theirs, ours] of Object.entries(reading.words ?? {})) {
    const value = own.get(ours.toLowerCase());
    const small = theirs.trim().toLowerCase();
    all.set(small, value);
    all.set(small.replace(/[\s_-]+/gu, ' '), value);
    all.set(theirs, value);
  }
  return () => cells.word(at, all, true);
}
