import { buildGridSystem } from '../../core/grid/build-grid-system.js';
import type { GridPair, GridSystem } from '../../core/grid/grid-system.js';
import { toEastNorth } from '../../core/adjustment/site-axes.js';
import type { SiteAxes } from '../../core/adjustment/site-axes.js';
import type { PlanePoint } from '../../core/adjustment/convex-hull.js';

/** Distances between central meridians in use, degrees. */
const ZONE_WIDTHS_DEG = [1, 1.5, 2, 3, 4, 6] as const;
/** Datums differ by less than this in coordinates, zones by far more. */
const SAME_M = 500;

/** A measured place and the control's coordinates for it, metres along east and north. */
export interface ZonePair {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly control: PlanePoint;
}

/**
 * Neighbouring zones of a transverse Mercator grid in which the measured points have the control's own
 * coordinates, as their central meridians in words. Empty where there is none, or where the control
 * agrees with the grid itself, or the grid is of another kind.
 */
export function otherZones(grid: GridSystem, pairs: readonly ZonePair[]): readonly string[] {
  const origin = grid.projection.parameters.find((parameter) => parameter.name === 'longitude of origin');
  const { proj4 } = grid.definition;
  if (origin === undefined || proj4 === null || pairs.length === 0 || !['tmerc', 'utm'].includes(grid.projection.key)) return [];
  if (agrees(grid, pairs)) return [];
  const text = bareTransverseMercator(grid);
  return ZONE_WIDTHS_DEG.flatMap((width) => [-width, width]).flatMap((step) => {
    const meridianDeg = origin.value + step;
    const built = buildGridSystem({ ...grid.definition, code: null, name: 'neighbouring zone', wkt: null, areaOfUse: null, proj4: `${text} +lon_0=${meridianDeg}` }, null);
    return built.ok && agrees(built.value, pairs) ? [`central meridian ${meridianDeg}°`] : [];
  });
}

/** The projection of the grid without its central meridian; a zone is written out. */
function bareTransverseMercator(grid: GridSystem): string {
  const value = (name: string): number => grid.projection.parameters.find((parameter) => parameter.name === name)?.value ?? 0;
  const { semiMajorAxisM, flattening } = grid.projection.ellipsoid;
  const shape = flattening === 0 ? `+R=${semiMajorAxisM}` : `+a=${semiMajorAxisM} +rf=${1 / flattening}`;
  const axes = grid.southOrientated ? ' +axis=wsu' : '';
  return `+proj=tmerc${axes} +lat_0=${value('latitude of origin')} +k_0=${value('scale factor at origin')} +x_0=${value('false easting')} +y_0=${value('false northing')} ${shape}`;
}

function agrees(grid: GridSystem, pairs: readonly ZonePair[]): boolean {
  const axes: SiteAxes = { columns: [grid.axes[0].columnName, grid.axes[1].columnName], metresPerUnit: grid.axes[0].metresPerUnit };
  const out: GridPair = { first: 0, second: 0 };
  return pairs.every((pair) => {
    if (grid.forward(pair.latitudeDeg, pair.longitudeDeg, out) !== 'ok') return false;
    const place = toEastNorth(axes, out.first, out.second);
    return Math.hypot(place.eastM - pair.control.eastM, place.northM - pair.control.northM) < SAME_M;
  });
}
