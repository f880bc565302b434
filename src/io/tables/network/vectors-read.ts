import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { inverse3 } from '../../../core/numeric/symmetric3.js';
import type { Symmetric3 } from '../../../core/numeric/symmetric3.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { VectorRow } from '../../../records/network-rows.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { column } from '../columns/column.js';
import type { Column, Draft } from '../columns/column.js';
import { readWholeTable } from '../columns/read-table.js';

/** A row before it is known which of the two covariances it has. */
interface FlatVector extends Omit<VectorRow, 'geocentric' | 'local'>, Symmetric3 {
  readonly sigmaEastM: number;
  readonly sigmaNorthM: number;
  readonly sigmaUpM: number;
  readonly correlationEn: number;
}

type NumberOf = Exclude<keyof FlatVector, 'fromId' | 'toId' | 'baseSetup' | 'day' | 'place'>;

const number = (
  name: string,
  member: NumberOf,
  range: readonly [number, number],
  describe: string,
  filling: 'needed' | 'filled' | 'optional',
): Column<FlatVector> =>
  column({
    name,
    kind: 'number',
    range,
    describe,
    isNeeded: filling === 'needed',
    isFilled: filling === 'filled',
    put: (row: Draft<FlatVector>, value: number) => (row[member] = value),
  });

const COVARIANCE = [
  ['cov_xx_m2', 'xx'],
  ['cov_xy_m2', 'xy'],
  ['cov_xz_m2', 'xz'],
  ['cov_yy_m2', 'yy'],
  ['cov_yz_m2', 'yz'],
  ['cov_zz_m2', 'zz'],
] as const;
const SIGMAS = [
  ['sigma_east_m', 'sigmaEastM'],
  ['sigma_north_m', 'sigmaNorthM'],
  ['sigma_up_m', 'sigmaUpM'],
] as const;

/** The columns of a file of vectors. */
const VECTOR_COLUMNS: readonly Column<FlatVector>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.fromId = id),
    describe: 'where it begins',
  }),
  column({ name: 'to_id', kind: 'id', isNeeded: true, put: (row, id) => (row.toId = id), describe: 'where it ends' }),
  number('dx_m', 'dxM', [-2e7, 2e7], 'to minus from, geocentric X', 'needed'),
  number('dy_m', 'dyM', [-2e7, 2e7], 'to minus from, geocentric Y', 'needed'),
  number('dz_m', 'dzM', [-2e7, 2e7], 'to minus from, geocentric Z', 'needed'),
  ...COVARIANCE.map(([name, member]) => number(name, member, [-1e6, 1e6], 'covariance, geocentric', 'filled')),
  ...SIGMAS.map(([name, member]) => number(name, member, [1e-6, 1000], 'sigma in the axes of the start', 'filled')),
  number('correlation_en', 'correlationEn', [-0.9999, 0.9999], 'of east and north, beside the sigmas', 'optional'),
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
  const read = await readWholeTable<FlatVector>(
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
        xx: NaN,
        xy: NaN,
        xz: NaN,
        yy: NaN,
        yz: NaN,
        zz: NaN,
        sigmaEastM: NaN,
        sigmaNorthM: NaN,
        sigmaUpM: NaN,
        correlationEn: 0,
        baseSetup: '',
        day: '',
        place: { sourceIndex, line },
      }),
      check(row, cells) {
        if (cells.problems.length > 0) return;
        if (row.fromId === row.toId)
          cells.report('value-out-of-range', cells.column('to_id'), `the vector goes from ${row.fromId} to itself`);
        else if (!Number.isNaN(row.xx) && !isPositive(row))
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
  return read.ok ? success(read.value.map(vectorRow), read.problems) : read;
}

function vectorRow(row: FlatVector): VectorRow {
  const { fromId, toId, dxM, dyM, dzM, baseSetup, day, place, xx, xy, xz, yy, yz, zz } = row;
  const { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn } = row;
  const isGeocentric = !Number.isNaN(xx);
  return {
    fromId,
    toId,
    dxM,
    dyM,
    dzM,
    geocentric: isGeocentric ? { xx, xy, xz, yy, yz, zz } : null,
    local: isGeocentric ? null : { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn },
    baseSetup,
    day,
    place,
  };
}

function isPositive(c: Symmetric3): boolean {
  const plane = c.xx * c.yy - c.xy * c.xy;
  const whole = c.zz - (c.xz * c.xz * c.yy - 2 * c.xz * c.yz * c.xy + c.yz * c.yz * c.xx) / plane;
  return c.xx > 0 && plane > 0 && whole > 0 && inverse3(c) !== null;
}
