import { inverse3 } from '../../../core/numeric/symmetric3.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { VectorRow } from '../../../records/network-rows.js';
import { createCellReader } from '../../csv/cell-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { everyRow } from '../../csv/every-row.js';
import { mapColumns } from '../columns/column-map.js';
import type { TableSpec } from '../columns/column-map.js';

const COVARIANCE = ['cov_xx_m2', 'cov_xy_m2', 'cov_xz_m2', 'cov_yy_m2', 'cov_yz_m2', 'cov_zz_m2'] as const;
const SIGMAS = ['sigma_east_m', 'sigma_north_m', 'sigma_up_m'] as const;

const VECTOR_TABLE: TableSpec = {
  columns: [
    'from_id',
    'to_id',
    'dx_m',
    'dy_m',
    'dz_m',
    ...COVARIANCE,
    ...SIGMAS,
    'correlation_en',
    'base_setup',
    'day',
  ],
  required: ['from_id', 'to_id', 'dx_m', 'dy_m', 'dz_m'],
  choices: [{ what: 'a covariance', sets: [COVARIANCE, SIGMAS] }],
  heights: [],
};

/**
 * Reads a file of vectors. `sourceIndex` is the file's place in the run's list of inputs; `mapping` our names for its headers.
 * Problems: those of the table and its cells; value-out-of-range for a covariance that is not positive definite and a vector
 * from a station to itself; nothing is returned when any row is bad.
 */
export async function readVectors(
  table: CsvTable,
  sourceIndex: number,
  mapping: Readonly<Record<string, string>>,
): Promise<Outcome<readonly VectorRow[]>> {
  const { source, header, headerLine, dialect } = table;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, VECTOR_TABLE, mapping);
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const c = cells.column;
  const [from, to, setup, day] = [c('from_id'), c('to_id'), c('base_setup'), c('day')];
  const differences = [c('dx_m'), c('dy_m'), c('dz_m')];
  const entries = COVARIANCE.map(c);
  const sigmas = SIGMAS.map(c);
  const correlation = c('correlation_en');
  const isGeocentric = entries.every(({ index }) => index >= 0);
  const found: VectorRow[] = [];
  const read = await everyRow(table, cells, (line) => {
    const fromId = cells.requiredId(from) ?? '';
    const toId = cells.requiredId(to) ?? '';
    const [dxM = 0, dyM = 0, dzM = 0] = differences.map((column) => cells.requiredNumber(column, -2e7, 2e7) ?? 0);
    const [xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0] = isGeocentric
      ? entries.map((column) => cells.requiredNumber(column, -1e6, 1e6) ?? 0)
      : [];
    const [sigmaEastM = 0, sigmaNorthM = 0, sigmaUpM = 0] = isGeocentric
      ? []
      : sigmas.map((column) => cells.requiredNumber(column, 1e-6, 1000) ?? 0);
    const correlationEn = isGeocentric ? 0 : (cells.optionalNumber(correlation, -0.9999, 0.9999) ?? 0);
    const row: VectorRow = {
      fromId,
      toId,
      dxM,
      dyM,
      dzM,
      geocentric: isGeocentric ? { xx, xy, xz, yy, yz, zz } : null,
      local: isGeocentric ? null : { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn },
      baseSetup: cells.text(setup).trim(),
      day: cells.text(day).trim(),
      place: { sourceIndex, line },
    };
    if (cells.problems.length > 0) return;
    if (fromId === toId) cells.report('value-out-of-range', to, `the vector goes from ${fromId} to itself`);
    else if (row.geocentric !== null && !isPositive(row.geocentric))
      cells.report(
        'value-out-of-range',
        entries[0]!,
        'the covariance is not positive definite',
        'check the order of its columns and their unit, m²',
      );
    else found.push(row);
  });
  if (!read.ok) return read;
  return read.value.length > 0 ? failureOf(read.value) : success(found, [...mapped.problems, ...read.problems]);
}

function isPositive(c: NonNullable<VectorRow['geocentric']>): boolean {
  const plane = c.xx * c.yy - c.xy * c.xy;
  const whole = c.zz - (c.xz * c.xz * c.yy - 2 * c.xz * c.yz * c.xy + c.yz * c.yz * c.xx) / plane;
  return c.xx > 0 && plane > 0 && whole > 0 && inverse3(c) !== null;
}
