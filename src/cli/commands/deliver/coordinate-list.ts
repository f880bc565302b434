import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { CoordinateFacts } from '../../../files/delivery/delivery-sheet.js';
import type { DeliveryFact } from '../../../records/reports/delivery-report.js';
import { entryAt } from '../../../records/present.js';
import { recordsText } from '../../outputs/record-writer.js';
import type { RecordColumn, WrittenRecord } from '../../outputs/record-writer.js';

/** The axes of a grid, whatever their unit. */
const GRID_AXIS = /^(?:easting|northing|westing|southing)_/u;
/** What a client gets of the columns of points, in order; the grid pair comes after the first three. */
const BEFORE_GRID: readonly string[] = ['point_id', 'occupation', 'code'];
const NUMBERS_AFTER: readonly string[] = [
  'orthometric_height_m',
  'latitude_deg',
  'longitude_deg',
  'ellipsoidal_height_m',
  'geoid_height_m',
  'circle_95_m',
  'vertical_95_m',
];
const WORDS_AFTER: readonly string[] = ['first_epoch_utc', 'last_epoch_utc', 'verdict', 'reasons'];

/** The points of a delivery: cells as the file of points has them, digit for digit. */
export interface CoordinateList {
  readonly columns: readonly RecordColumn[];
  readonly rows: readonly WrittenRecord[];
}

/** The columns of a client's list of a file of points. Problems: those of its rows. */
export async function readCoordinateList(table: CsvTable): Promise<Outcome<CoordinateList>> {
  const axes = table.header.filter((name) => GRID_AXIS.test(name));
  const columns = [
    ...BEFORE_GRID.map((name): RecordColumn => ({ name, kind: 'text' })),
    ...[...axes, ...NUMBERS_AFTER].map((name): RecordColumn => ({ name, kind: 'number' })),
    ...WORDS_AFTER.map((name): RecordColumn => ({ name, kind: 'text' })),
  ].filter(({ name }) => table.header.includes(name));
  const places = columns.map(({ name }) => table.header.indexOf(name));
  const at = (name: string): number => columns.findIndex((column) => column.name === name);
  const [latitude, longitude, height] = [at('latitude_deg'), at('longitude_deg'), at('ellipsoidal_height_m')];
  const rows: WrittenRecord[] = [];
  for await (const block of table.blocks()) {
    if (!block.ok) return block;
    for (const row of block.value.rows()) {
      const cells = places.map((place, index) => inFull(entryAt(row, place), entryAt(columns, index).name));
      const number = (place: number): number | null => (place < 0 ? null : parseDecimal(entryAt(cells, place)));
      const [latitudeDeg, longitudeDeg] = [number(latitude), number(longitude)];
      rows.push({
        cells,
        geometry:
          latitudeDeg === null || longitudeDeg === null
            ? { kind: 'lines', lines: [] }
            : { kind: 'point', place: { latitudeDeg, longitudeDeg }, ellipsoidalHeightM: number(height) },
      });
    }
  }
  return success({ columns, rows });
}

/** Decimals that files of points have of a position: a map drops zeros at their end. */
const POSITION_DECIMALS: Readonly<Record<string, number>> = {
  latitude_deg: DECIMALS.degrees,
  longitude_deg: DECIMALS.degrees,
  ellipsoidal_height_m: DECIMALS.metres,
};

/** A cell with the zeros at the end that its column has; longer ones stay as they are. */
function inFull(cell: string, name: string): string {
  const decimals = POSITION_DECIMALS[name];
  const value = decimals === undefined ? null : parseDecimal(cell);
  if (decimals === undefined || value === null) return cell;
  const full = formatFixed(value, decimals);
  return full.startsWith(cell) ? full : cell;
}

/** The list as text. Given: the frame of latitude and longitude, in words. */
export function coordinateText(
  { columns, rows }: CoordinateList,
  format: 'csv' | 'geojson',
  frame: string,
  csv: CsvWriteOptions,
): string {
  const head = { schema: 'pegbook-coordinates', list: 'points', members: { frame }, summary: null };
  return recordsText(format, columns, rows, head, csv);
}

/** Counts, corners and times of a list. */
export function coordinateFacts({ columns, rows }: CoordinateList): CoordinateFacts {
  const column = (name: string): readonly string[] => {
    const place = columns.findIndex((own) => own.name === name);
    return place < 0 ? [] : rows.map(({ cells }) => entryAt(cells, place)).filter((cell) => cell !== '');
  };
  const verdicts = new Map<string, number>();
  for (const verdict of column('verdict')) verdicts.set(verdict, (verdicts.get(verdict) ?? 0) + 1);
  const extent = columns.flatMap(({ name }): readonly DeliveryFact[] => {
    if (!GRID_AXIS.test(name) && !['latitude_deg', 'longitude_deg', 'orthometric_height_m'].includes(name)) return [];
    const [first, ...others] = column(name);
    if (first === undefined) return [];
    const [least, most] = others.reduce(
      ([low, high], cell) => [isLess(cell, low) ? cell : low, isLess(high, cell) ? cell : high],
      [first, first],
    );
    return [{ name, value: least === most ? least : `${least} to ${most}` }];
  });
  const times = [...column('first_epoch_utc'), ...column('last_epoch_utc')].sort();
  return {
    points: new Set(
      rows.flatMap(({ geometry, cells }) =>
        geometry.kind === 'point' || hasGrid(columns, cells) ? entryAt(cells, 0) : [],
      ),
    ).size,
    verdicts,
    extent,
    worst: { plan: largestOf(columns, rows, 'circle_95_m'), height: largestOf(columns, rows, 'vertical_95_m') },
    rejected: rejectedIn(columns, rows),
    review: reviewIn(columns, rows),
    firstEpoch: times[0] ?? null,
    lastEpoch: times.at(-1) ?? null,
  };
}

/** Points that were rejected in every occupation. */
function rejectedIn(columns: readonly RecordColumn[], rows: readonly WrittenRecord[]): readonly string[] {
  const place = columns.findIndex(({ name }) => name === 'verdict');
  if (place < 0) return [];
  const kept = new Set(rows.flatMap(({ cells }) => (entryAt(cells, place) === 'rejected' ? [] : [entryAt(cells, 0)])));
  return [...new Set(rows.map(({ cells }) => entryAt(cells, 0)))].filter((id) => !kept.has(id));
}

/** Points of which an occupation is for review. */
function reviewIn(columns: readonly RecordColumn[], rows: readonly WrittenRecord[]): readonly string[] {
  const place = columns.findIndex(({ name }) => name === 'verdict');
  if (place < 0) return [];
  return [...new Set(rows.flatMap(({ cells }) => (entryAt(cells, place) === 'review' ? [entryAt(cells, 0)] : [])))];
}

/** The point with the largest number of a column, and the number as it is written; null: none is. */
function largestOf(
  columns: readonly RecordColumn[],
  rows: readonly WrittenRecord[],
  name: string,
): DeliveryFact | null {
  const place = columns.findIndex((own) => own.name === name);
  if (place < 0) return null;
  return rows.reduce<DeliveryFact | null>((most, { cells }) => {
    const value = entryAt(cells, place);
    const isMore = parseDecimal(value) !== null && (most === null || isLess(most.value, value));
    return isMore ? { name: entryAt(cells, 0), value } : most;
  }, null);
}

/** Whether a number is less than another, as both are written. */
function isLess(a: string, b: string): boolean {
  const [first, second] = [parseDecimal(a), parseDecimal(b)];
  return first !== null && second !== null && first < second;
}

function hasGrid(columns: readonly RecordColumn[], cells: readonly string[]): boolean {
  return columns.some(({ name }, index) => GRID_AXIS.test(name) && cells[index] !== '');
}
