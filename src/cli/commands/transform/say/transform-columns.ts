import { formatDms } from '../../../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { OutputFormat } from '../../../../files/points/points-writer.js';
import { writtenNames } from '../../../../files/points/written-names.js';
import type { GeojsonProperty } from '../../../../io/geojson/geojson-write.js';
import { carriedNames, renamedColumnNotes } from '../../../../io/tables/columns/carried-names.js';
import { GEOCENTRIC, TOPOCENTRIC } from '../../../../io/tables/points/place-columns.js';
import type { PlaceInput } from '../../../../io/tables/points/place-rows-read.js';
import { DECIMALS } from '../../../../io/tables/columns/decimals.js';
import type { PlaceRow } from '../../../../records/points/place-row.js';
import type { Problem } from '../../../../records/problem.js';
import { SITE_COLUMNS, siteCells } from '../../../../tasks/site/apply-site.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import type { PointOnTheWay } from '../../../../tasks/transform/point-on-the-way.js';
import { formWritten } from '../../../../tasks/transform/transform-plan.js';
import { heightsWritten } from '../../../../tasks/transform/written-heights.js';

/** Columns of the output, and the cells of one point. */
export interface TransformColumns {
  readonly columns: readonly GeojsonProperty[];
  /** Says which columns of the input were renamed. */
  readonly notes: readonly Problem[];
  readonly cells: (row: PlaceRow, point: PointOnTheWay) => readonly string[];
}

/** Decimals of a second of arc in DMS output: 0.00001″ is 0.3 mm. */
const SECONDS_DECIMALS = 5;

/**
 * The columns of the output: identifier, position, heights that can be known, figures of a site, then the other columns
 * of the input. Latitude and longitude stand in the geometry of GeoJSON and not in its properties.
 */
export function transformColumns(
  planned: PlannedTransform,
  input: PlaceInput,
  format: OutputFormat,
  dms: boolean,
): TransformColumns {
  const isPlace = formWritten(planned.plan) === 'place';
  const position = isPlace && format === 'geojson' ? NO_POSITION : positionOf(planned, dms);
  const heights = heightsWritten(planned, { orthometric: input.hasOrthometric, ellipsoidal: input.hasEllipsoidal });
  const hasSite = planned.end?.kind === 'site';
  const hasGeoid = planned.heights.geoid !== null;
  const numbers = [
    ...heights.map((kind) => `${kind}_height_m`),
    ...(hasGeoid ? ['geoid_height_m'] : []),
    ...(hasSite ? SITE_COLUMNS : []),
  ];
  const own: readonly GeojsonProperty[] = [
    { name: 'point_id', kind: 'text' },
    ...position.names.map((name): GeojsonProperty => ({ name, kind: isPlace && dms ? 'text' : 'number' })),
    ...numbers.map((name): GeojsonProperty => ({ name, kind: 'number' })),
  ];
  const carried = carriedNames(writtenNames(format, own), input.passThroughNames);
  return {
    columns: [...own, ...carried.names.map((name): GeojsonProperty => ({ name, kind: 'text' }))],
    notes: renamedColumnNotes(carried),
    cells(row, point) {
      const cells = [row.pointId];
      position.push(point, cells);
      for (const kind of heights)
        cells.push(m(kind === 'orthometric' ? point.orthometricHeightM : point.ellipsoidalHeightM));
      if (hasGeoid) cells.push(m(point.geoidHeightM));
      if (hasSite && point.site !== null) for (const cell of siteCells(point.site)) cells.push(cell);
      for (const cell of row.passThrough) cells.push(cell);
      return cells;
    },
  };
}

/** The columns of a position, and what puts its cells in. */
interface PositionColumns {
  readonly names: readonly string[];
  readonly push: (point: PointOnTheWay, cells: string[]) => void;
}

const NO_POSITION: PositionColumns = { names: [], push: () => undefined };

function positionOf({ plan, end }: PlannedTransform, dms: boolean): PositionColumns {
  switch (formWritten(plan)) {
    case 'place':
      return {
        names: ['latitude_deg', 'longitude_deg'],
        push: ({ latitudeDeg, longitudeDeg }, cells) =>
          cells.push(angle(latitudeDeg, 'latitude', dms), angle(longitudeDeg, 'longitude', dms)),
      };
    case 'geocentric':
      return { names: GEOCENTRIC, push: ({ xM, yM, zM }, cells) => cells.push(metres(xM), metres(yM), metres(zM)) };
    case 'topocentric':
      return {
        names: TOPOCENTRIC,
        push: ({ eastM, northM, upM }, cells) => cells.push(metres(eastM), metres(northM), metres(upM)),
      };
    case 'plane':
      return {
        names: (end?.at === 'out' ? end.columns : null) ?? plan.to.grid?.axes.map(({ columnName }) => columnName) ?? [],
        push: ({ first, second }, cells) => cells.push(metres(first), metres(second)),
      };
  }
}

function angle(value: number, axis: 'latitude' | 'longitude', dms: boolean): string {
  return dms ? formatDms(value, axis, SECONDS_DECIMALS) : formatFixed(value, DECIMALS.degrees);
}

function metres(value: number): string {
  return formatFixed(value, DECIMALS.metres);
}

function m(value: number | null): string {
  return value === null ? '' : metres(value);
}
