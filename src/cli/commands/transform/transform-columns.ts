import { formatDms } from '../../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { carriedNames, renamedColumnNotes } from '../../../io/tables/columns/carried-names.js';
import { writtenNames } from '../../../files/points/written-names.js';
import type { GeojsonProperty } from '../../../io/geojson/geojson-write.js';
import { GEOCENTRIC, TOPOCENTRIC } from '../../../io/tables/points/place-columns.js';
import type { PlaceInput } from '../../../io/tables/points/place-rows-read.js';
import { DECIMALS } from '../../../io/tables/points/point-cells.js';
import type { Problem } from '../../../records/problem.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { TransformedPoint } from '../../../tasks/reduce/transformed-point.js';
import type { TransformSetup } from '../../../tasks/transform/transform-setup.js';
import type { OutputFormat } from '../../../files/points/points-writer.js';

/** Columns of the output, and the cells of one point. */
export interface TransformColumns {
  readonly columns: readonly GeojsonProperty[];
  /** Says which columns of the input were renamed. */
  readonly notes: readonly Problem[];
  readonly cells: (row: PlaceRow, point: TransformedPoint) => readonly string[];
}

/** Decimals of a second of arc in DMS output: 0.00001″ is 0.3 mm. */
const SECONDS_DECIMALS = 5;

/**
 * The columns of the output: identifier, position, heights that can be known, then the other columns of the input.
 * Latitude and longitude stand in the geometry of GeoJSON and not in its properties.
 */
export function transformColumns(
  setup: TransformSetup,
  input: PlaceInput,
  format: OutputFormat,
  dms: boolean,
): TransformColumns {
  const { to, from, stepOut } = setup;
  const isPlace = to.kind === 'geographic';
  const m = (value: number | null): string => (value === null ? '' : formatFixed(value, DECIMALS.metres));
  const angle = (value: number, axis: 'latitude' | 'longitude'): string =>
    dms ? formatDms(value, axis, SECONDS_DECIMALS) : formatFixed(value, DECIMALS.degrees);
  const position: readonly string[] = isPlace
    ? ['latitude_deg', 'longitude_deg']
    : to.grid === null
      ? to.topocentric === null
        ? GEOCENTRIC
        : TOPOCENTRIC
      : (stepOut?.columns ?? to.grid.axes.map((axis) => axis.columnName));
  const hasGeoid = setup.toEllipsoidal !== null || setup.toOrthometric !== null;
  const hasEllipsoidal =
    to.kind !== 'geocentric' && (input.hasEllipsoidal || from.kind === 'geocentric' || setup.toEllipsoidal !== null);
  const hasOrthometric = input.hasOrthometric || setup.toOrthometric !== null;
  const showsPosition = !(isPlace && format === 'geojson');
  const own: readonly GeojsonProperty[] = [
    { name: 'point_id', kind: 'text' },
    ...(showsPosition
      ? position.map((name): GeojsonProperty => ({ name, kind: isPlace && dms ? 'text' : 'number' }))
      : []),
    ...(hasOrthometric ? [{ name: 'orthometric_height_m', kind: 'number' } as const] : []),
    ...(hasEllipsoidal ? [{ name: 'ellipsoidal_height_m', kind: 'number' } as const] : []),
    ...(hasGeoid ? [{ name: 'geoid_height_m', kind: 'number' } as const] : []),
  ];
  const carried = carriedNames(writtenNames(format, own), input.passThroughNames);
  return {
    columns: [...own, ...carried.names.map((name): GeojsonProperty => ({ name, kind: 'text' }))],
    notes: renamedColumnNotes(carried),
    cells(row, point) {
      const cells = [row.pointId];
      if (showsPosition) {
        if (isPlace) cells.push(angle(point.first, 'latitude'), angle(point.second, 'longitude'));
        else cells.push(formatFixed(point.first, DECIMALS.metres), formatFixed(point.second, DECIMALS.metres));
        if (to.kind === 'geocentric') cells.push(formatFixed(point.third, DECIMALS.metres));
      }
      if (hasOrthometric) cells.push(m(point.orthometricHeightM));
      if (hasEllipsoidal) cells.push(m(point.ellipsoidalHeightM));
      if (hasGeoid) cells.push(m(point.geoidHeightM));
      for (const cell of row.passThrough) cells.push(cell);
      return cells;
    },
  };
}
