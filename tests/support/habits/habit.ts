import { Buffer } from 'node:buffer';
import { ROWS } from './truth.js';
import type { TruthRow } from './truth.js';

/** A way of writing fixes. */
export interface Habit {
  /** In words; also the name of its snapshot. */
  readonly name: string;
  readonly file: string;
  readonly bytes: Buffer;
  /** What a person answers to the draft, as `--answer` takes it. */
  readonly answers: readonly string[];
  /** How far reduced coordinates may be from the truth, metres: what the digits of the file leave open. */
  readonly toleranceM: number;
  /** Beside the session, for the reduction. */
  readonly options?: string;
}

export type Cell = (row: TruthRow) => string | number;
export type Column = readonly [header: string, cell: Cell];

interface TableHabit {
  readonly columns: readonly Column[];
  readonly delimiter?: string;
  readonly decimalComma?: boolean;
  readonly before?: string;
  readonly under?: string;
  readonly hasHeader?: boolean;
  readonly encode?: (text: string) => Buffer;
  readonly rows?: readonly TruthRow[];
}

/** The text of a table. */
export function tableText({
  columns,
  delimiter = ',',
  decimalComma = false,
  before = '',
  under = '',
  hasHeader = true,
  rows = ROWS,
}: TableHabit): string {
  const shown = (value: string | number): string => {
    const text = String(value);
    return decimalComma && /^[+-]?\d+\.\d+$/u.test(text) ? text.replace('.', ',') : text;
  };
  const line = (cells: readonly string[]): string => `${cells.join(delimiter)}\n`;
  return (
    before +
    (hasHeader ? line(columns.map(([header]) => header)) : '') +
    under +
    rows.map((row) => line(columns.map(([, cell]) => shown(cell(row))))).join('')
  );
}

const COMMON: readonly string[] = ['system.grid=EPSG:32734', 'system.fixes=EPSG:4326', 'rover.reference_point=tip'];

/** Headers over the solution. */
const SOLUTION = /solution|lösung|qualité|estado|solução|soluzione|oplossing|rozwiązanie|status/iu;

/** A habit that is a table of text. */
export function habit(name: string, table: TableHabit, answers: readonly string[] = [], toleranceM = 0.0006): Habit {
  const text = tableText(table);
  return {
    name,
    file: `${name.replaceAll(' ', '-')}.csv`,
    bytes: table.encode?.(text) ?? Buffer.from(text, 'utf8'),
    answers: [
      ...COMMON.filter((common) => !answers.some((own) => own.split('=')[0] === common.split('=')[0])),
      ...(table.columns.some(([header]) => SOLUTION.test(header)) && table.hasHeader !== false
        ? []
        : ['table.solution=fixed']),
      ...answers,
    ],
    toleranceM,
  };
}

/** Bytes of Windows-1252 for text of Latin letters. */
export function windows1252(text: string): Buffer {
  return Buffer.from(text, 'latin1');
}

export const id: Cell = ({ id: name }) => name;
export const latitude: Cell = ({ latitudeDeg }) => latitudeDeg.toFixed(9);
export const longitude: Cell = ({ longitudeDeg }) => longitudeDeg.toFixed(9);
export const height: Cell = ({ heightM }) => heightM.toFixed(3);
export const always =
  (value: string | number): Cell =>
  () =>
    value;

/** Degrees, minutes and seconds of an angle. */
export function dms(
  angleDeg: number,
  decimals = 5,
): { readonly sign: string; readonly d: string; readonly m: string; readonly s: string } {
  const size = Math.round(Math.abs(angleDeg) * 3600 * 10 ** decimals);
  const second = 60 * 10 ** decimals;
  const d = Math.floor(size / (60 * second));
  const m = Math.floor((size - d * 60 * second) / second);
  const s = ((size % second) / 10 ** decimals).toFixed(decimals).padStart(3 + decimals, '0');
  return { sign: angleDeg < 0 ? '-' : '', d: String(d), m: String(m).padStart(2, '0'), s };
}
