import { parseAngle } from '../core/numeric/angle-text.js';
import { failure, failureOf, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { PlaceRow } from '../records/place-row.js';
import type { Problem } from '../records/problem.js';
import { createCellReader } from './cell-read.js';
import { mapColumns } from './column-map.js';
import { rowLengthProblem } from './csv-read.js';
import type { CsvTable } from './csv-read.js';
import type { RejectedRow } from './fixes-read.js';
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
  /** Also left out, beside the columns that belong to the system the points come from. */
  readonly alsoLeftOut: readonly string[];
  /** Turns the place of a problem into the document's own, for GeoJSON. */
  readonly place?: (problem: Problem) => Problem;
}

/** Rows that follow each other in the file. */
export interface PlaceBlock {
  readonly rows: readonly PlaceRow[];
  readonly rejected: readonly RejectedRow[];
  /** A row of this block as it stands in the file, by its line. */
  readonly rawOf: (row: PlaceRow) => string;
  /** The latitude and longitude that stand beside a grid pair of this block; null where there are none. */
  readonly ownPlaceOf: (row: PlaceRow) => { readonly latitudeDeg: number; readonly longitudeDeg: number } | null;
}

export interface PlaceInput {
  /** Names of the columns that pass through, in the order of `PlaceRow.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** Columns that were left out because they belong to the system the points come from. */
  readonly leftOut: readonly string[];
  readonly hasEllipsoidal: boolean;
  readonly hasOrthometric: boolean;
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<PlaceBlock>>;
}

const GEOGRAPHIC = ['latitude_deg', 'longitude_deg'] as const;
/** Columns of a geocentric position, and of one about an origin. */
export const GEOCENTRIC: readonly [string, string, string] = ['x_m', 'y_m', 'z_m'];
export const TOPOCENTRIC: readonly [string, string, string] = ['east_m', 'north_m', 'up_m'];
const HEIGHTS = ['ellipsoidal_height_m', 'orthometric_height_m'] as const;
/** Values that change with the system and are not carried along: they would be wrong in the output. */
const STALE: readonly string[] = [
  ...GEOGRAPHIC, ...GEOCENTRIC, ...TOPOCENTRIC, ...HEIGHTS, 'geoid_height_m', 'point_scale_factor', 'elevation_factor', 'combined_factor', 'convergence_deg',
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
  const mismatch = kind === 'projected' && axes !== null && dialect.hasHeader ? axesProblem(head, axes, options.mapping) : null;
  if (mismatch !== null) return failure(place({ ...mismatch, ...(mismatch.hint !== undefined && { hint: mismatch.hint.replaceAll('--system', '--from') }) }));
  const position: readonly string[] = kind === 'geographic' ? GEOGRAPHIC : kind === 'geocentric' ? GEOCENTRIC : kind === 'topocentric' ? TOPOCENTRIC : (axes ?? []);
  const isSpace = kind === 'geocentric' || kind === 'topocentric';
  const heights: readonly string[] = isSpace ? [position[2] ?? '', ...HEIGHTS] : HEIGHTS;
  const required = ['point_id', ...(options.needs === null ? [] : [`${options.needs}_height_m`])];
  const mapped = mapColumns(head, { columns: ['point_id', ...position, ...HEIGHTS], required, choices: [{ what: 'a position', sets: [position] }], heights }, options.mapping);
  if (!mapped.ok) return failureOf(mapped.problems.map(place));
  const map = mapped.value;
  const grids = gridColumnsIn(header);
  const isStale = (name: string): boolean => STALE.includes(name) || grids.includes(name) || options.alsoLeftOut.includes(name);
  const passing = map.passThrough.filter(({ name }) => !isStale(name.toLowerCase()));
  const leftOut = map.passThrough.filter(({ name }) => isStale(name.toLowerCase())).map(({ name }) => name);
  const indexes = passing.map(({ index }) => index);
  const own = kind !== 'projected' ? [] : GEOGRAPHIC.map((name) => map.passThrough.find((column) => column.name.toLowerCase() === name)?.index);

  function ownPlace(row: readonly string[]): { readonly latitudeDeg: number; readonly longitudeDeg: number } | null {
    const [latitude, longitude] = own.map((index) => (index === undefined ? '' : (row[index] ?? '').trim()));
    if (latitude === undefined || longitude === undefined || latitude === '' || longitude === '') return null;
    const [phi, lambda] = [parseAngle(latitude, 'latitude', dialect.decimalComma), parseAngle(longitude, 'longitude', dialect.decimalComma)];
    return phi.ok && lambda.ok ? { latitudeDeg: phi.value, longitudeDeg: lambda.value } : null;
  }

  async function* blocks(): AsyncGenerator<Outcome<PlaceBlock>> {
    const cells = createCellReader(map, source, dialect.decimalComma);
    const [id, h, orthometric] = ['point_id', ...HEIGHTS].map((name) => cells.column(name)) as [ReturnType<typeof cells.column>, ReturnType<typeof cells.column>, ReturnType<typeof cells.column>];
    const [first, second, third] = [0, 1, 2].map((index) => cells.column(position[index] ?? '')) as [typeof id, typeof id, typeof id];
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield failureOf(block.problems.map(place));
        return;
      }
      const { rows: texts, firstRecord, lineOf, rawOf } = block.value;
      const rows: PlaceRow[] = [];
      const rejected: RejectedRow[] = [];
      for (let index = 0; index < texts.length; index += 1) {
        const row = texts[index] ?? [];
        const line = lineOf(index);
        const record = firstRecord + index;
        if (row.length !== header.length) {
          const problem = rowLengthProblem(row, header, { source, line, record });
          if (problem !== null) rejected.push({ line, raw: rawOf(index), problems: [place(problem)] });
          continue;
        }
        cells.start(row, line, record);
        const pointId = cells.requiredId(id);
        const a = kind === 'geographic' ? cells.latitude(first, second) : cells.requiredNumber(first);
        const b = kind === 'geographic' ? cells.longitude(second) : cells.requiredNumber(second);
        const c = isSpace ? cells.requiredNumber(third) : 0;
        const ellipsoidalHeightM = isSpace ? null : options.needs === 'ellipsoidal' ? cells.requiredNumber(h, -12_000, 100_000) : cells.optionalNumber(h, -12_000, 100_000);
        const orthometricHeightM = options.needs === 'orthometric' ? cells.requiredNumber(orthometric, -12_000, 100_000) : cells.optionalNumber(orthometric, -12_000, 100_000);
        if (cells.problems.length > 0 || pointId === null || a === null || b === null || c === null) {
          rejected.push({ line, raw: rawOf(index), problems: cells.problems.map(place) });
          continue;
        }
        rows.push({ pointId, first: a, second: b, third: c, ellipsoidalHeightM, orthometricHeightM, passThrough: indexes.map((at) => row[at] ?? ''), line, record });
      }
      yield success({ rows, rejected, rawOf: (row) => rawOf(row.record - firstRecord), ownPlaceOf: (row) => ownPlace(texts[row.record - firstRecord] ?? []) });
    }
  }

  return success(
    {
      passThroughNames: passing.map(({ name }) => name),
      leftOut,
      hasEllipsoidal: !isSpace && map.index('ellipsoidal_height_m') >= 0,
      hasOrthometric: map.index('orthometric_height_m') >= 0,
      headerRaw: table.headerRaw,
      blocks,
    },
    mapped.problems.map(place),
  );
}
