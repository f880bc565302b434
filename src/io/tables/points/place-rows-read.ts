import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { Problem } from '../../../records/problem.js';
import type { RowCells } from '../../csv/cell-read.js';
import { csvBlock } from '../../csv/csv-block.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import { withoutRows } from '../../csv/csv-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { pieceSize, WAY } from '../../host/way.js';
import { plainRow } from '../../csv/plain-records.js';
import type { Column } from '../columns/column.js';
import type { Draft } from '../../../records/draft.js';
import { mapColumns, tableSpec } from '../columns/column-map.js';
import type { PassThroughColumn } from '../columns/column-map.js';
import { createRowLoop } from '../columns/row-loop.js';
import type { ReadRow } from '../columns/row-loop.js';
import { createRowFiller } from '../columns/row-reader.js';
import { isTrustLost } from '../columns/trust-columns.js';
import { otherPositionReader } from './other-position.js';
import { GEOCENTRIC, HEIGHTS, placeColumns, positionNames, TOPOCENTRIC } from './place-columns.js';
import type { PlaceBlock, PlaceBytes, PlaceInput, PlaceReadOptions } from './place-input.js';
import { createPlainPlaceReader } from './plain-places.js';
import type { PlacesTable, PlainPlaces } from './plain-places.js';
import { KNOWN_POINT_COLUMNS } from './point-columns.js';
import { axesProblem, gridColumnsIn } from './point-row-columns.js';
import { entryAt } from '../../../records/present.js';

const NO_CELLS: readonly string[] = Object.freeze([]);
const NOTHING_TOLD: Pick<PlaceBlock, 'rejected' | 'warnings' | 'withoutPlace'> = {
  rejected: [],
  warnings: [],
  withoutPlace: 0,
};
/** Rows handed on at a time. */
const MOST_ROWS = pieceSize(64, 3);
/** Values that change with the system and are not carried along: they would be wrong in the output. */
const STALE: ReadonlySet<string> = new Set([
  ...GEOCENTRIC,
  ...TOPOCENTRIC,
  ...[...KNOWN_POINT_COLUMNS.values()].filter(({ isOfPlace }) => isOfPlace === true).map(({ name }) => name),
]);

/**
 * Reads points to be transformed: identifier, position in the file's own system, heights. Every other column passes
 * through as text, but for those that belong to the system the points come from.
 * Problems: csv-axes-mismatch; those of `mapColumns` (a bare height is height-kind-unstated); with the blocks, those of
 * the table; with each rejected row, those of its cells.
 */
export function readPlaceRows(table: CsvTable, options: PlaceReadOptions): Outcome<PlaceInput> {
  const { source, header, headerLine, dialect } = table;
  const place = options.place ?? ((problem: Problem) => problem);
  const head = { source, header, headerLine, hasHeader: dialect.hasHeader };
  const { kind, axes } = options;
  const mismatch =
    kind === 'projected' && axes !== null && dialect.hasHeader ? axesProblem(head, axes, options.mapping) : null;
  if (mismatch !== null) return failure(place(withFrom(mismatch)));
  const isSpace = kind === 'geocentric' || kind === 'topocentric';
  const position = positionNames(kind, axes);
  const columns = placeColumns(kind, axes, options.needs);
  const heights: readonly string[] = isSpace ? [entryAt(position, 2), ...HEIGHTS] : HEIGHTS;
  const mapped = mapColumns(
    head,
    tableSpec(columns, [{ what: 'a position', sets: [position] }], heights),
    options.mapping,
  );
  if (!mapped.ok) return failureOf(mapped.problems.map(place));
  const map = mapped.value;
  const { passing, notTrusted, leftOut } = sortOthers(map.passThrough, header, options);
  const verdict = map.passThrough.find(({ name }) => name.toLowerCase() === 'verdict')?.index ?? -1;
  const places = position.map(map.index);
  const otherPosition = otherPositionReader(map, options, dialect.decimalComma);

  /** A point that the reduction rejected: its verdict says so, and its position is empty. */
  const isRejectedPoint = (row: readonly string[]): boolean =>
    verdict >= 0 &&
    entryAt(row, verdict).trim() === 'rejected' &&
    places.every((index) => entryAt(row, index).trim() === '');

  const piecesOf = createRowLoop<PlaceRow>(table, {
    map,
    most: MOST_ROWS,
    isSkipped: isRejectedPoint,
    place,
    reader: (cells) => createPlaceRow(cells, columns, passing),
  });

  function* placesOf(block: CsvBlock, plain: PlainPlaces | null): Generator<PlaceBlock> {
    const { firstRecord } = block;
    const known = {
      rawOf: (row: PlaceRow) => block.rawOf(row.record - firstRecord),
      otherPositionOf: otherPositions(otherPosition, block, dialect.delimiter),
    };
    plain?.standIn(block);
    if (plain !== null) yield { rows: plain, carried: plain.carried, ...NOTHING_TOLD, ...known };
    else
      for (const { rows, rejected, warnings, skipped } of piecesOf(block))
        yield { rows, carried: null, rejected, warnings, withoutPlace: skipped, ...known };
  }

  async function* blocks(): AsyncGenerator<Outcome<PlaceBlock>> {
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield failureOf(block.problems.map(place));
        return;
      }
      for (const places of placesOf(block.value, null)) yield success(places);
    }
  }

  return success(
    {
      passThroughNames: passing.map(({ name }) => name),
      leftOut,
      notTrusted,
      hasEllipsoidal: !isSpace && map.index('ellipsoidal_height_m') >= 0,
      hasOrthometric: map.index('orthometric_height_m') >= 0,
      headerRaw: table.headerRaw,
      hasOther: otherPosition !== null,
      blocks,
      bytes: placeBytes(table, { map, columns, position, passing, cellCount: header.length, dialect }, placesOf),
    },
    mapped.problems.map(place),
  );
}

/** The rows in the bytes of the file; null where there are none, or none are plain. */
function placeBytes(table: CsvTable, places: PlacesTable, placesOf: PlaceBytes['placesOf']): PlaceBytes | null {
  const { source, header, headerLine, dialect, byteBlocks } = table;
  const plainOf = WAY === 'general' ? null : createPlainPlaceReader(places);
  if (byteBlocks === null || plainOf === null) return null;
  return {
    head: { source, header, headerLine, dialect },
    byteBlocks,
    plainOf,
    locate: (block, firstRecord) => csvBlock(block, firstRecord, dialect, source),
    placesOf,
    withoutRows: () => withoutRows(source),
  };
}

/** The same problem, its hint about the option that names the system of these rows. */
function withFrom(problem: Problem): Problem {
  return problem.hint === undefined ? problem : { ...problem, hint: problem.hint.replaceAll('--system', '--from') };
}

/** What becomes of the columns that are not read: they pass through, hold no longer, or belong to the system of the file. */
function sortOthers(
  others: readonly PassThroughColumn[],
  header: readonly string[],
  { alsoLeftOut, trust }: PlaceReadOptions,
): Pick<PlaceInput, 'notTrusted' | 'leftOut'> & { readonly passing: readonly PassThroughColumn[] } {
  const grids = gridColumnsIn(header);
  const isStale = (name: string): boolean => STALE.has(name) || grids.includes(name) || alsoLeftOut.includes(name);
  const passing: PassThroughColumn[] = [];
  const notTrusted: string[] = [];
  const leftOut: string[] = [];
  for (const other of others) {
    if (isStale(other.name.toLowerCase())) leftOut.push(other.name);
    else if (isTrustLost(other.name, trust)) notTrusted.push(other.name);
    else passing.push(other);
  }
  return { passing, notTrusted, leftOut };
}

/** A reader of one point from one row, which must be current in `cells`. */
function createPlaceRow(
  cells: RowCells,
  columns: readonly Column<PlaceRow>[],
  passing: readonly PassThroughColumn[],
): ReadRow<PlaceRow> {
  const fill = createRowFiller(columns, cells);
  return (line, record) => {
    const row: Draft<PlaceRow> = {
      pointId: '',
      first: NaN,
      second: NaN,
      third: 0,
      ellipsoidalHeightM: null,
      orthometricHeightM: null,
      passThrough: NO_CELLS,
      line,
      record,
    };
    fill(row);
    if (passing.length > 0) row.passThrough = passing.map(cells.text);
    return cells.problems.length > 0 ? null : row;
  };
}

/** The second position of a row of a block. A row is split into its texts only where the file has columns of one. */
function otherPositions(
  read: ReturnType<typeof otherPositionReader>,
  block: CsvBlock,
  delimiter: string,
): PlaceBlock['otherPositionOf'] {
  return read === null ? () => null : (row) => read(textsOf(block, row.record - block.firstRecord, delimiter));
}

function textsOf(block: CsvBlock, index: number, delimiter: string): readonly string[] {
  return block.plain === null ? entryAt(block.rows(), index) : plainRow(block.plain, index, delimiter);
}
