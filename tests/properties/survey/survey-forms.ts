import { Buffer } from 'node:buffer';
import { seededRandom } from '../../support/seeded-random.js';
import { CARRIED } from './large-survey.js';
import type { Survey } from './large-survey.js';

/** How a table is written as delimited text. */
export interface CsvForm {
  readonly delimiter: string;
  readonly lineEnd: string;
  readonly decimalComma: boolean;
  readonly quoteAll: boolean;
  readonly encoding: 'utf8' | 'utf8-mark' | 'utf16le' | 'utf16be';
}

export const PLAIN: CsvForm = { delimiter: ',', lineEnd: '\n', decimalComma: false, quoteAll: false, encoding: 'utf8' };

/** Table -> bytes; a cell is quoted where it must be, or always. */
export function csvBytes({ header, rows }: Survey, form: CsvForm): Buffer {
  const { delimiter, lineEnd, decimalComma, quoteAll, encoding } = form;
  const spelt = (cell: string): string =>
    decimalComma && /^[-+]?\d+\.\d+$/u.test(cell) ? cell.replace('.', ',') : cell;
  const written = (cell: string): string =>
    quoteAll || /["\r\n]/u.test(cell) || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;
  const text = [header, ...rows.map((row) => row.map(spelt))]
    .map((row) => row.map(written).join(delimiter) + lineEnd)
    .join('');
  if (encoding === 'utf8') return Buffer.from(text);
  if (encoding === 'utf8-mark') return Buffer.from(`\ufeff${text}`);
  const little = Buffer.from(`\ufeff${text}`, 'utf16le');
  return encoding === 'utf16le' ? little : little.swap16();
}

/** The same rows with their columns in another order; what passes through keeps its own, which the output shows. */
export function permuted({ header, rows }: Survey, seed: number, carried: readonly string[] = CARRIED): Survey {
  const random = seededRandom(seed);
  const drawn = header
    .map((_, column) => ({ column, at: random.next() }))
    .sort((a, b) => a.at - b.at)
    .map(({ column }) => column);
  const strangers = header.map((_, column) => column).filter((column) => carried.includes(header[column] ?? ''));
  let next = 0;
  const order = drawn.map((column) =>
    carried.includes(header[column] ?? '') ? (strangers[next++] ?? column) : column,
  );
  return {
    header: order.map((column) => header[column] ?? ''),
    rows: rows.map((row) => order.map((column) => row[column] ?? '')),
  };
}

/** The same rows, each cell of these columns spelt another way. */
export function respelt({ header, rows }: Survey, spell: Readonly<Record<string, (cell: string) => string>>): Survey {
  return {
    header,
    rows: rows.map((row) =>
      row.map((cell, column) => (cell === '' ? '' : (spell[header[column] ?? '']?.(cell) ?? cell))),
    ),
  };
}

const NUMBER = /^-?\d+(?:\.\d+)?$/u;

/** Features of points: the position in the geometry, everything else in properties, numbers as JSON numbers with their digits. */
export function geojsonText({ header, rows }: Survey, named: 'properties' | 'id' = 'properties'): string {
  const at = (row: readonly string[], name: string): string => row[header.indexOf(name)] ?? '';
  const value = (cell: string): string =>
    cell === '' ? 'null' : NUMBER.test(cell) && !/^-?0\d/u.test(cell) ? cell : JSON.stringify(cell);
  const features = rows.map((row) => {
    const id = JSON.stringify(at(row, 'point_id'));
    const own = header
      .map((name, column) => ({ name, cell: row[column] ?? '' }))
      .filter(
        ({ name }) =>
          !['latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'].includes(name) &&
          !(named === 'id' && name === 'point_id'),
      )
      .map(({ name, cell }) => `${JSON.stringify(name)}:${name === 'point_id' ? id : value(cell)}`);
    const position = ['longitude_deg', 'latitude_deg', 'ellipsoidal_height_m']
      .map((name) => at(row, name))
      .filter((cell) => cell !== '');
    return `{"type":"Feature",${named === 'id' ? `"id":${id},` : ''}"geometry":{"type":"Point","coordinates":[${position.join(',')}]},"properties":{${own.join(',')}}}`;
  });
  return `{"type":"FeatureCollection","features":[\n${features.join(',\n')}\n]}\n`;
}

/** Decimal degrees of nine decimals as degrees, minutes and seconds of seven, without a digit lost. */
export function sexagesimal(cell: string, hemispheres: readonly [string, string]): string {
  const match = /^(-?)(\d+)\.(\d{9})$/u.exec(cell);
  if (match === null) return cell;
  const [, sign = '', degrees = '', decimals = ''] = match;
  const units = BigInt(decimals) * 36n;
  const pad = (value: bigint, width: number): string => value.toString().padStart(width, '0');
  return `${degrees}°${pad(units / 600_000_000n, 2)}'${pad((units / 10_000_000n) % 60n, 2)}.${pad(units % 10_000_000n, 7)}"${hemispheres[sign === '' ? 0 : 1]}`;
}
