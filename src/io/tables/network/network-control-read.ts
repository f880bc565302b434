import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { ControlHold, NetworkControlRow } from '../../../records/network-rows.js';
import { createCellReader } from '../../csv/cell-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { everyRow } from '../../csv/every-row.js';
import { mapColumns } from '../columns/column-map.js';
import type { AxisNames } from '../points/point-row-columns.js';

const HOLDS: ReadonlyMap<string, ControlHold> = new Map<string, ControlHold>([
  ['fixed', 'fixed'],
  ['weighted', 'weighted'],
  ['plan', 'plan'],
  ['height', 'height'],
]);

/**
 * Reads the control of a network: `point_id`, a place as `x_m, y_m, z_m`, as latitude and longitude or as the grid pair of the
 * system, heights, sigmas and `held`. A row may hold an orthometric height alone.
 * Problems: those of the table and its cells; value-missing for half a place; value-duplicate-id; nothing is returned when any
 * row is bad.
 */
export async function readNetworkControl(
  table: CsvTable,
  sourceIndex: number,
  mapping: Readonly<Record<string, string>>,
  axes: AxisNames | null,
): Promise<Outcome<readonly NetworkControlRow[]>> {
  const { source, header, headerLine, dialect } = table;
  const spec = {
    columns: [
      'point_id',
      'x_m',
      'y_m',
      'z_m',
      ...(axes ?? []),
      'latitude_deg',
      'longitude_deg',
      'ellipsoidal_height_m',
      'orthometric_height_m',
      'sigma_horizontal_m',
      'sigma_vertical_m',
      'held',
    ],
    required: ['point_id'],
    choices: [],
    heights: ['ellipsoidal_height_m', 'orthometric_height_m', 'z_m'],
  };
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, spec, mapping);
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const c = cells.column;
  const id = c('point_id');
  const [x, y, z] = [c('x_m'), c('y_m'), c('z_m')];
  const [first, second] = [c(axes?.[0] ?? ''), c(axes?.[1] ?? '')];
  const [latitude, longitude] = [c('latitude_deg'), c('longitude_deg')];
  const [ellipsoidal, orthometric] = [c('ellipsoidal_height_m'), c('orthometric_height_m')];
  const [horizontal, vertical, held] = [c('sigma_horizontal_m'), c('sigma_vertical_m'), c('held')];
  const any = (...columns: readonly (typeof id)[]): boolean =>
    columns.some((column) => cells.text(column).trim() !== '');
  const found: NetworkControlRow[] = [];
  const seen = new Set<string>();
  const read = await everyRow(table, cells, (line) => {
    const isGeocentric = any(x, y, z);
    const hasGrid = any(first, second);
    const hasGeographic = !hasGrid && any(latitude, longitude);
    const pointId = cells.requiredId(id) ?? '';
    const row: NetworkControlRow = {
      pointId,
      geocentric: isGeocentric
        ? {
            xM: cells.requiredNumber(x, -1e8, 1e8) ?? 0,
            yM: cells.requiredNumber(y, -1e8, 1e8) ?? 0,
            zM: cells.requiredNumber(z, -1e8, 1e8) ?? 0,
          }
        : null,
      gridFirst: hasGrid ? cells.requiredNumber(first, -1e9, 1e9) : null,
      gridSecond: hasGrid ? cells.requiredNumber(second, -1e9, 1e9) : null,
      latitudeDeg: hasGeographic ? cells.latitude(latitude, longitude) : null,
      longitudeDeg: hasGeographic ? cells.longitude(longitude) : null,
      ellipsoidalHeightM: cells.optionalNumber(ellipsoidal, -12_000, 100_000),
      orthometricHeightM: cells.optionalNumber(orthometric, -12_000, 100_000),
      sigmaHorizontalM: cells.optionalNumber(horizontal, 0, 1e6),
      sigmaVerticalM: cells.optionalNumber(vertical, 0, 1e6),
      held: cells.word(held, HOLDS),
      place: { sourceIndex, line },
    };
    if (cells.problems.length > 0) return;
    const hasPlace = isGeocentric || hasGrid || hasGeographic;
    const hasHeight = isGeocentric || row.ellipsoidalHeightM !== null || row.orthometricHeightM !== null;
    if (seen.has(pointId))
      cells.report('value-duplicate-id', id, `${pointId} is there twice`, 'keep one row of each control point');
    else if (!hasHeight)
      cells.report(
        'value-missing',
        hasPlace ? ellipsoidal : id,
        `${pointId} has no height`,
        'a place on the ground needs a height too, if only a rough one with held plan',
      );
    else if (!hasPlace && row.orthometricHeightM === null)
      cells.report(
        'value-missing',
        id,
        `${pointId} has no place`,
        axes === null
          ? 'grid coordinates need --system; without a place an orthometric height is needed'
          : 'give a place, or an orthometric height alone',
      );
    else found.push(row);
    seen.add(pointId);
  });
  if (!read.ok) return read;
  return read.value.length > 0 ? failureOf(read.value) : success(found, [...mapped.problems, ...read.problems]);
}
