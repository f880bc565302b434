import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { DescribedColumn } from '../tables/columns/column.js';

/** What is known of a column by its name: null where it is none of ours. */
export type KnownColumn = Pick<DescribedColumn, 'name' | 'kind' | 'unit' | 'decimals' | 'describe'>;

/** The type that a column of text is written as. Every one gives the same text back. */
export type CellType =
  { readonly kind: 'text' } | { readonly kind: 'time' } | { readonly kind: 'number'; readonly decimals: number };

/** Looks at the cells of a column until what they can be written as is known. */
export interface TypeFinder {
  readonly see: (cell: string) => void;
  readonly found: () => CellType;
}

/** Digits that a number of 64 bits holds, whatever they are. */
export const MOST_DIGITS = 18;

const TEXT: CellType = { kind: 'text' };
/** Units that the name of a column ends in. */
const IN_UNITS = /_(?:m|m2|deg|arcsec|s|mm|km|ppm)$/u;

/**
 * A finder of the type of a column. Names, words, codes and what is none of ours are text, whatever their cells hold; numbers are
 * decimals where every cell has the same number of them, and its digits are those that are written for its value; times are instants where
 * every cell is as `formatUtc` writes it. Empty cells say nothing.
 */
export function createTypeFinder(name: string, known: KnownColumn | null): TypeFinder {
  const expected = expectedType(name, known);
  if (expected.kind === 'text') return { see: () => undefined, found: () => TEXT };
  let isKept = true;
  if (expected.kind === 'time')
    return {
      see(cell) {
        isKept &&= cell === '' || instantOf(cell) !== null;
      },
      found: () => (isKept ? expected : TEXT),
    };
  let decimals = -1;
  return {
    see(cell) {
      if (!isKept || cell === '') return;
      const own = decimalsOf(cell);
      if (decimals < 0) decimals = own;
      isKept = own >= 0 && own === decimals;
    },
    found() {
      if (!isKept) return TEXT;
      // Of a column without a number its own decimals, where it has some.
      const places = decimals < 0 ? expected.decimals : decimals;
      return Number.isFinite(places) ? { kind: 'number', decimals: places } : TEXT;
    },
  };
}

function expectedType(name: string, known: KnownColumn | null): CellType {
  switch (known?.kind) {
    case undefined:
      return IN_UNITS.test(name) ? { kind: 'number', decimals: Infinity } : TEXT;
    case 'number':
    case 'latitude':
    case 'longitude':
    case 'direction':
    case 'angle':
    case 'whole':
      return { kind: 'number', decimals: known?.kind === 'whole' ? 0 : (known?.decimals ?? Infinity) };
    case 'time':
      return { kind: 'time' };
    case 'id':
    case 'text':
    case 'word':
    case 'codes':
    case 'yes-no':
      return TEXT;
  }
}

const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;

/** Decimals of a number as it is written for its value: no sign but a minus, no zeros before it, no minus before nothing; −1: it is none, or has too many digits. */
export function decimalsOf(cell: string): number {
  const start = cell.charCodeAt(0) === MINUS ? 1 : 0;
  let point = -1;
  let isNothing = true;
  for (let at = start; at < cell.length; at += 1) {
    const code = cell.charCodeAt(at);
    if (code === POINT && point < 0 && at > start) point = at;
    else if (code < ZERO || code > ZERO + 9) return -1;
    else isNothing &&= code === ZERO;
  }
  const whole = (point < 0 ? cell.length : point) - start;
  if (whole === 0 || point === cell.length - 1 || cell.length - start - (point < 0 ? 0 : 1) > MOST_DIGITS) return -1;
  if ((whole > 1 && cell.charCodeAt(start) === ZERO) || (isNothing && start > 0)) return -1;
  return point < 0 ? 0 : cell.length - point - 1;
}

const INSTANT = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:\.(\d{3}))?Z$/u;

/** Milliseconds of the epoch of a time, where that is how they are written; else null. */
export function instantOf(cell: string): number | null {
  const parts = INSTANT.exec(cell);
  if (parts === null) return null;
  const [year, month, day, hour, minute, second, milli] = parts
    .slice(1)
    // No decimals are none.
    .map((text) => parseDecimal(text ?? '0') ?? 0) as [number, number, number, number, number, number, number];
  const ms = daysOf(year, month, day) * 86_400_000 + ((hour * 60 + minute) * 60 + second) * 1000 + milli;
  return formatUtc(ms) === cell ? ms : null;
}

/** Days from 1970-01-01, counted from 0000-03-01 as in `formatUtc`. */
function daysOf(year: number, month: number, day: number): number {
  const shifted = month <= 2 ? year - 1 : year;
  const fromMarch = (month + 9) % 12;
  const era = Math.floor(shifted / 400);
  const inEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * fromMarch + 2) / 5) + day - 1;
  return era * 146_097 + inEra * 365 + Math.floor(inEra / 4) - Math.floor(inEra / 100) + dayOfYear - 719_468;
}
