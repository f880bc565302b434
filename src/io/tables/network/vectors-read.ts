import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { inverse3 } from '../../../core/numeric/symmetric3.js';
import type { Symmetric3 } from '../../../core/numeric/symmetric3.js';
import type { Outcome } from '../../../records/outcome.js';
import type { VectorRow } from '../../../records/network-rows.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import type { Draft } from '../../../records/draft.js';
import { readWholeTable } from '../columns/read-table.js';

/** A row before it is known which of the two covariances it has: both are there to be filled. */
interface FilledVector extends Omit<VectorRow, 'geocentric' | 'local'> {
  geocentric: Draft<Symmetric3> | null;
  local: Draft<NonNullable<VectorRow['local']>> | null;
}

type Filling = Draft<FilledVector>;

const number = (
  name: string,
  put: (row: Filling, value: number) => void,
  range: readonly [number, number],
  describe: string,
  filling: 'needed' | 'filled' | 'optional',
): Column<FilledVector> =>
  column({
    name,
    kind: 'number',
    range,
    describe,
    isNeeded: filling === 'needed',
    isFilled: filling !== 'optional',
    put,
  });

const COVARIANCE: readonly (readonly [string, (row: Filling, value: number) => void])[] = [
  ['cov_xx_m2', ({ geocentric }, value) => (geocentric!.xx = value)],
  ['cov_xy_m2', ({ geocentric }, value) => (geocentric!.xy = value)],
  ['cov_xz_m2', ({ geocentric }, value) => (geocentric!.xz = value)],
  ['cov_yy_m2', ({ geocentric }, value) => (geocentric!.yy = value)],
  ['cov_yz_m2', ({ geocentric }, value) => (geocentric!.yz = value)],
  ['cov_zz_m2', ({ geocentric }, value) => (geocentric!.zz = value)],
];
const SIGMAS: readonly (readonly [string, (row: Filling, value: number) => void])[] = [
  ['sigma_east_m', ({ local }, value) => (local!.sigmaEastM = value)],
  ['sigma_north_m', ({ local }, value) => (local!.sigmaNorthM = value)],
  ['sigma_up_m', ({ local }, value) => (local!.sigmaUpM = value)],
];

/** The columns of a file of vectors. */
const VECTOR_COLUMNS: readonly Column<FilledVector>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.fromId = id),
    describe: 'where it begins',
  }),
  column({ name: 'to_id', kind: 'id', isNeeded: true, put: (row, id) => (row.toId = id), describe: 'where it ends' }),
  number('dx_m', (row, value) => (row.dxM = value), [-2e7, 2e7], 'to minus from, geocentric X', 'needed'),
  number('dy_m', (row, value) => (row.dyM = value), [-2e7, 2e7], 'to minus from, geocentric Y', 'needed'),
  number('dz_m', (row, value) => (row.dzM = value), [-2e7, 2e7], 'to minus from, geocentric Z', 'needed'),
  ...COVARIANCE.map(([name, put]) => number(name, put, [-1e6, 1e6], 'covariance, geocentric', 'filled')),
  ...SIGMAS.map(([name, put]) => number(name, put, [1e-6, 1000], 'sigma in the axes of the start', 'filled')),
  number(
    'correlation_en',
    ({ local }, value) => (local!.correlationEn = value),
    [-0.9999, 0.9999],
    'of east and north, beside the sigmas',
    'optional',
  ),
  column({
    name: 'base_setup',
    kind: 'text',
    put: (row, text) => (row.baseSetup = text.trim()),
    describe: 'set-up of the base',
  }),
  column({ name: 'day', kind: 'text', put: (row, text) => (row.day = text.trim()), describe: 'day of the set-up' }),
];

/**
 * Reads a file of vectors. `sourceIndex` is the file's place in the run's list of inputs; `mapping` our names for its headers.
 * Problems: those of the table and its cells; value-out-of-range for a covariance that is not positive definite and a vector
 * from a station to itself; nothing is returned when any row is bad.
 */
export async function readVectors(
  table: CsvTable,
  sourceIndex: number,
  mapping: ColumnMapping,
): Promise<Outcome<readonly VectorRow[]>> {
  let before: Filling | null = null;
  const read = await readWholeTable<FilledVector>(
    table,
    {
      columns: VECTOR_COLUMNS,
      choices: [{ what: 'a covariance', sets: [COVARIANCE.map(([name]) => name), SIGMAS.map(([name]) => name)] }],
      blank: (line) => ({
        fromId: '',
        toId: '',
        dxM: NaN,
        dyM: NaN,
        dzM: NaN,
        geocentric: { xx: NaN, xy: NaN, xz: NaN, yy: NaN, yz: NaN, zz: NaN },
        local: { sigmaEastM: NaN, sigmaNorthM: NaN, sigmaUpM: NaN, correlationEn: 0 },
        baseSetup: '',
        day: '',
        place: { sourceIndex, line },
      }),
      check(row, cells) {
        // What is not there is not kept, and what stood in the row before is kept once: rows are many.
        if (Number.isNaN(row.geocentric?.xx)) row.geocentric = null;
        else row.local = null;
        if (before !== null) shareTexts(row, before);
        before = row;
        if (cells.problems.length > 0) return;
        if (row.fromId === row.toId)
          cells.report('value-out-of-range', cells.column('to_id'), `the vector goes from ${row.fromId} to itself`);
        else if (row.geocentric !== null && !isPositive(row.geocentric))
          cells.report(
            'value-out-of-range',
            cells.column('cov_xx_m2'),
            'the covariance is not positive definite',
            'check the order of its columns and their unit, m²',
          );
      },
    },
    mapping,
  );
  return read;
}

/** Texts that are those of the row before, in its memory. */
function shareTexts(row: Filling, { fromId, day, baseSetup }: Filling): void {
  if (row.fromId === fromId) row.fromId = fromId;
  if (row.day === day) row.day = day;
  if (row.baseSetup === baseSetup) row.baseSetup = baseSetup;
}

function isPositive(c: Symmetric3): boolean {
  const plane = c.xx * c.yy - c.xy * c.xy;
  const whole = c.zz - (c.xz * c.xz * c.yy - 2 * c.xz * c.yz * c.xy + c.yz * c.yz * c.xx) / plane;
  return c.xx > 0 && plane > 0 && whole > 0 && inverse3(c) !== null;
}
