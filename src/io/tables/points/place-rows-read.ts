import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { Problem } from '../../../records/problem.js';
import { createCellReader } from '../../csv/cell-read.js';
import type { Column, RowCells } from '../../csv/cell-read.js';
import { mapColumns } from '../columns/column-map.js';
import { rowCount } from '../../csv/csv-block.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import { rowLengthProblem } from '../../csv/csv-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import type { RejectedRow } from '../fixes/fixes-read.js';
import { otherPositionReader } from './other-position.js';
import type { OtherPosition } from './other-position.js';
import { GEOCENTRIC, GEOGRAPHIC, HEIGHTS, TOPOCENTRIC } from './place-columns.js';
import { createPlainCellReader } from '../../csv/plain-cell-read.js';
import { plainRow } from '../../csv/plain-records.js';
import { isTrustLost } from '../columns/trust-columns.js';
import type { TrustKept } from '../columns/trust-columns.js';
import { axesProblem, gridColumnsIn } from './point-row-columns.js';
import type { AxisNames } from './point-row-columns.js';

/** What the position columns of a file are. */
export type PlaceKind = 'projected' | 'geographic' | 'geocentric' | 'topocentric';

export interface PlaceReadOptions {
  readonly kind: PlaceKind;
  /** Names of the grid columns; used with `projected`. */
  readonly axes: AxisNames | null;
  /** The height column the run cannot do without; null: none. */
  readonly needs: 'ellipsoidal' | 'orthometric' | null;
  readonly mapping: Readonly<Record<string, string>>;
  /** Which figures of trust still hold for the positions that are written. */
  readonly trust: TrustKept;
  /** With `geographic`: the grid pair that may stand beside latitude and longitude; null: none that could be compared. */
  readonly beside: AxisNames | null;
  /** Also left out, beside the columns that belong to the system the points come from. */
  readonly alsoLeftOut: readonly string[];
  /** Turns the place of a problem into the document's own, for GeoJSON. */
  readonly place?: (problem: Problem) => Problem;
}

/** Rows that follow each other in the file. */
export interface PlaceBlock {
  readonly rows: readonly PlaceRow[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings that cost no row. */
  readonly warnings: readonly Problem[];
  /** Rows left out: points that the reduction rejected, which have no position. */
  readonly withoutPlace: number;
  /** A row of this block as it stands in the file, by its line. */
  readonly rawOf: (row: PlaceRow) => string;
  /** The other position of a row of this block: degrees beside a grid pair, or the pair of `beside` next to degrees. */
  readonly otherPositionOf: (row: PlaceRow) => OtherPosition | null;
}

export interface PlaceInput {
  /** Names of the columns that pass through, in the order of `PlaceRow.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** Columns that were left out because they belong to the system the points come from. */
  readonly leftOut: readonly string[];
  /** Figures of trust that were left out because they do not hold for what is written. */
  readonly notTrusted: readonly string[];
  readonly hasEllipsoidal: boolean;
  readonly hasOrthometric: boolean;
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<PlaceBlock>>;
}

/** Rows handed on at a time. */
const MOST_ROWS = 64;
/** Values that change with the system and are not carried along: they would be wrong in the output. */
const STALE: readonly string[] = [
  ...GEOGRAPHIC,
  ...GEOCENTRIC,
  ...TOPOCENTRIC,
  ...HEIGHTS,
  'geoid_height_m',
  'point_scale_factor',
  'elevation_factor',
  'combined_factor',
  'convergence_deg',
];

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
  if (mismatch !== null)
    return failure(
      place({
        ...mismatch,
        ...(mismatch.hint !== undefined && { hint: mismatch.hint.replaceAll('--system', '--from') }),
      }),
    );
  const position: readonly string[] =
    kind === 'geographic'
      ? GEOGRAPHIC
      : kind === 'geocentric'
        ? GEOCENTRIC
        : kind === 'topocentric'
          ? TOPOCENTRIC
          : (axes ?? []);
  const isSpace = kind === 'geocentric' || kind === 'topocentric';
  const heights: readonly string[] = isSpace ? [position[2] ?? '', ...HEIGHTS] : HEIGHTS;
  const required = ['point_id', ...(options.needs === null ? [] : [`${options.needs}_height_m`])];
  const mapped = mapColumns(
    head,
    {
      columns: ['point_id', ...position, ...HEIGHTS],
      required,
      choices: [{ what: 'a position', sets: [position] }],
      heights,
    },
    options.mapping,
  );
  if (!mapped.ok) return failureOf(mapped.problems.map(place));
  const map = mapped.value;
  const grids = gridColumnsIn(header);
  const isStale = (name: string): boolean =>
    STALE.includes(name) || grids.includes(name) || options.alsoLeftOut.includes(name);
  const isLost = (name: string): boolean => !isStale(name.toLowerCase()) && isTrustLost(name, options.trust);
  const passing = map.passThrough.filter(({ name }) => !isStale(name.toLowerCase()) && !isLost(name));
  const notTrusted = map.passThrough.filter(({ name }) => isLost(name)).map(({ name }) => name);
  const leftOut = map.passThrough.filter(({ name }) => isStale(name.toLowerCase())).map(({ name }) => name);
  const verdict = map.passThrough.find(({ name }) => name.toLowerCase() === 'verdict')?.index ?? -1;
  const places = position.map(map.index);
  const otherPosition = otherPositionReader(map, options, dialect.decimalComma);

  /** A point that the reduction rejected: its verdict says so, and its position is empty. */
  const isRejectedPoint = (row: readonly string[]): boolean =>
    verdict >= 0 &&
    (row[verdict] ?? '').trim() === 'rejected' &&
    places.every((index) => (row[index] ?? '').trim() === '');

  /** Reads the current row of a cell reader; null where it reported a problem. */
  function rowReader(cells: RowCells): (line: number, record: number) => PlaceRow | null {
    const [id, h, orthometric] = ['point_id', ...HEIGHTS].map((name) => cells.column(name)) as [Column, Column, Column];
    const [first, second, third] = [0, 1, 2].map((index) => cells.column(position[index] ?? '')) as [
      Column,
      Column,
      Column,
    ];
    return (line, record) => {
      const pointId = cells.requiredId(id);
      const a = kind === 'geographic' ? cells.latitude(first, second) : cells.requiredNumber(first);
      const b = kind === 'geographic' ? cells.longitude(second) : cells.requiredNumber(second);
      const c = isSpace ? cells.requiredNumber(third) : 0;
      const ellipsoidalHeightM = isSpace
        ? null
        : options.needs === 'ellipsoidal'
          ? cells.requiredNumber(h, -12_000, 100_000)
          : cells.optionalNumber(h, -12_000, 100_000);
      const orthometricHeightM =
        options.needs === 'orthometric'
          ? cells.requiredNumber(orthometric, -12_000, 100_000)
          : cells.optionalNumber(orthometric, -12_000, 100_000);
      const passThrough = passing.map((column) => cells.text(column));
      if (cells.problems.length > 0 || pointId === null || a === null || b === null || c === null) return null;
      return {
        pointId,
        first: a,
        second: b,
        third: c,
        ellipsoidalHeightM,
        orthometricHeightM,
        passThrough,
        line,
        record,
      };
    };
  }

  const cells = createCellReader(map, source, dialect.decimalComma);
  const readRow = rowReader(cells);
  const isPlainDialect = !dialect.decimalComma && dialect.delimiter.charCodeAt(0) < 0x80;
  const plainCells = createPlainCellReader(map, header.length, dialect.delimiter);
  const readPlainRow = rowReader(plainCells);

  /** In pieces, so that few rows are alive when memory is cleared of dead ones. */
  function* piecesOf(block: CsvBlock): Generator<PlaceBlock> {
    const { plain, firstRecord, lineOf } = block;
    const count = rowCount(block);
    const textsOf = (index: number): readonly string[] =>
      plain === null ? (block.rows[index] ?? []) : plainRow(plain, index, dialect.delimiter);
    const known = {
      rawOf: (row: PlaceRow) => block.rawOf(row.record - firstRecord),
      otherPositionOf: (row: PlaceRow) => otherPosition(textsOf(row.record - firstRecord)),
    };
    let rows: PlaceRow[] = [];
    let rejected: RejectedRow[] = [];
    let withoutPlace = 0;
    for (let index = 0; index < count; index += 1) {
      if (rows.length === MOST_ROWS) {
        yield { rows, rejected, warnings: cells.takeWarnings().map(place), withoutPlace, ...known };
        rows = [];
        withoutPlace = 0;
        rejected = [];
      }
      const line = lineOf(index);
      const record = firstRecord + index;
      if (plain !== null && isPlainDialect && plainCells.start(plain.bytes, plain.startOf(index), plain.endOf(index))) {
        const read = readPlainRow(line, record);
        if (read !== null) {
          rows.push(read);
          continue;
        }
      }
      const texts = textsOf(index);
      const wrongLength =
        texts.length === header.length ? null : rowLengthProblem(texts, header, { source, line, record });
      if (wrongLength === null && isRejectedPoint(texts)) {
        withoutPlace += 1;
        continue;
      }
      if (wrongLength === null) cells.start(texts, line, record);
      const read = wrongLength === null ? readRow(line, record) : null;
      if (read === null)
        rejected.push({
          line,
          raw: block.rawOf(index),
          problems: wrongLength === null ? cells.problems.map(place) : [place(wrongLength)],
        });
      else rows.push(read);
    }
    yield { rows, rejected, warnings: cells.takeWarnings().map(place), withoutPlace, ...known };
  }

  async function* blocks(): AsyncGenerator<Outcome<PlaceBlock>> {
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield failureOf(block.problems.map(place));
        return;
      }
      for (const piece of piecesOf(block.value)) yield success(piece);
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
      blocks,
    },
    mapped.problems.map(place),
  );
}
