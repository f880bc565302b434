import { Buffer, isUtf8 } from 'node:buffer';
import { formatUtc } from '../../core/numeric/text/utc-text.js';

/** What a file says of a column: the members of its schema that tell what its values are. */
export interface StoredColumn {
  readonly name: string;
  readonly type?: string;
  readonly num_children?: number;
  readonly repetition_type?: string;
  readonly converted_type?: string;
  readonly scale?: number;
  readonly logical_type?: {
    readonly type: string;
    readonly scale?: number;
    readonly unit?: string;
    readonly isAdjustedToUTC?: boolean;
  };
}

/** How the values of a column become cells. */
export interface StoredCells {
  /** As what its values are asked for: as they are stored, as text, or as the type of the column says. */
  readonly as: 'stored' | 'bytes' | 'text' | 'typed';
  /** The text of a value; null: it is none that a table can hold. */
  readonly textOf: (value: unknown) => string | null;
}

/** Stands for bytes that are no UTF-8, or hold a zero byte. */
export const NO_TEXT: unique symbol = Symbol('no text');

/** The text of bytes; `NO_TEXT` where they are none. */
export function textOfBytes(bytes: Uint8Array): string | typeof NO_TEXT {
  return isUtf8(bytes) && !bytes.includes(0)
    ? Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('utf8')
    : NO_TEXT;
}

/**
 * How the values of a column become cells of text; null: by no way, its type is none of a table.
 *
 * A decimal has as many decimals as its column says; a whole number its digits; a double the fewest digits that tell it from every
 * other; a time ISO 8601, with a Z where the column is of UTC: by its type, or, of a time without a zone, by a name that ends in `_utc`.
 * Source: the logical types of the Parquet format (apache/parquet-format, LogicalTypes.md).
 */
export function storedCells(column: StoredColumn): StoredCells | null {
  const { type, logical_type: logical, converted_type: converted } = column;
  // A column of columns, or of lists.
  if (column.num_children !== undefined || column.repetition_type === 'REPEATED') return null;
  // Neither: it is what it is stored as.
  const said = logical?.type ?? converted ?? '';
  switch (said) {
    case 'DECIMAL':
      // Without a scale it is whole: so the format says.
      return decimals(type === 'BYTE_ARRAY' ? 'bytes' : 'stored', logical?.scale ?? column.scale ?? 0);
    case 'TIMESTAMP':
    case 'TIMESTAMP_MILLIS':
    case 'TIMESTAMP_MICROS':
      return instants(
        ticksASecond(logical?.unit ?? said),
        logical?.isAdjustedToUTC !== false || column.name.toLowerCase().endsWith('_utc'),
      );
    case 'DATE':
      return {
        as: 'stored',
        textOf: (days) => instantText(BigInt(days as number) * 86_400n, 1n, true)?.slice(0, 10) ?? null,
      };
    case 'TIME':
    case 'TIME_MILLIS':
    case 'TIME_MICROS':
      return timesOfDay(ticksASecond(logical?.unit ?? said));
    case 'UTF8':
    case 'STRING':
    case 'ENUM':
    case 'JSON':
      return { as: 'text', textOf: (value) => (typeof value === 'string' ? value : null) };
    case 'UUID':
      return { as: 'typed', textOf: String };
    default:
      return said === '' || said.startsWith('INT') || said.startsWith('UINT') ? plainCells(column) : null;
  }
}

/** Cells of a column whose values are what they are stored as. */
function plainCells({
  type,
  logical_type: logical,
  converted_type: converted,
  name,
}: StoredColumn): StoredCells | null {
  if (logical?.type === 'INTERVAL' || converted === 'INTERVAL') return null;
  switch (type) {
    case 'BOOLEAN':
    case 'INT32':
    case 'INT64':
      return { as: 'typed', textOf: String };
    case 'FLOAT':
    case 'DOUBLE':
      return { as: 'typed', textOf: (value) => (Number.isFinite(value) ? String(value) : null) };
    case 'BYTE_ARRAY':
      return { as: 'text', textOf: (value) => (typeof value === 'string' ? value : null) };
    case 'INT96':
      return instants(1_000_000_000n, name.toLowerCase().endsWith('_utc'));
    default:
      return null;
  }
}

function decimals(as: StoredCells['as'], scale: number): StoredCells {
  return { as, textOf: (value) => decimalText(unscaled(value), scale) };
}

/** The whole number that a decimal is stored as: bytes are the highest first, the highest bit the sign. */
function unscaled(value: unknown): bigint {
  if (typeof value === 'bigint' || typeof value === 'number') return BigInt(value);
  const bytes = value as Uint8Array;
  let whole = 0n;
  for (const byte of bytes) whole = (whole << 8n) | BigInt(byte);
  return BigInt.asIntN(8 * bytes.length, whole);
}

function decimalText(whole: bigint, scale: number): string {
  const digits = String(whole < 0n ? -whole : whole).padStart(scale + 1, '0');
  const sign = whole < 0n ? '-' : '';
  return scale === 0 ? sign + digits : `${sign}${digits.slice(0, -scale)}.${digits.slice(-scale)}`;
}

function ticksASecond(unit: string): bigint {
  if (unit.endsWith('NANOS')) return 1_000_000_000n;
  return unit.endsWith('MICROS') ? 1_000_000n : 1000n;
}

function instants(ticks: bigint, isUtc: boolean): StoredCells {
  return { as: 'stored', textOf: (value) => instantText(BigInt(value as bigint | number), ticks, isUtc) };
}

/** The first instant of the year 10000, seconds of the epoch; texts of years have four digits. */
const TOO_LATE_S = 253_402_300_800n;
/** The first of the year 0000. */
const FIRST_S = -62_167_219_200n;

/** A time as `formatUtc` writes it, with as many groups of three decimals as it needs. */
function instantText(value: bigint, ticks: bigint, isUtc: boolean): string | null {
  const rest = ((value % ticks) + ticks) % ticks;
  const seconds = (value - rest) / ticks;
  if (seconds < FIRST_S || seconds >= TOO_LATE_S) return null;
  return formatUtc(Number(seconds) * 1000).slice(0, -1) + fraction(rest, ticks) + (isUtc ? 'Z' : '');
}

function timesOfDay(ticks: bigint): StoredCells {
  return {
    as: 'stored',
    textOf(value) {
      const time = BigInt(value as bigint | number);
      const rest = time % ticks;
      if (time < 0n || time >= 86_400n * ticks) return null;
      return formatUtc(Number((time - rest) / ticks) * 1000).slice(11, -1) + fraction(rest, ticks);
    },
  };
}

function fraction(rest: bigint, ticks: bigint): string {
  if (rest === 0n) return '';
  const digits = String(rest).padStart(String(ticks).length - 1, '0');
  let end = digits.length;
  while (digits.endsWith('000', end)) end -= 3;
  return `.${digits.slice(0, end)}`;
}
