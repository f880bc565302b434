import { normaliseLongitudeDeg } from '../../../core/numeric/angle-units.js';
import { buildGridSystem } from '../../../core/grid/systems/build-grid-system.js';
import { falseEastingM, gridParameter } from '../../../core/grid/systems/grid-parameter.js';
import type { GridPair, GridSystem } from '../../../core/grid/systems/grid-system.js';
import { toEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { present } from '../../../records/present.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';

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
 * Other grids in which the measured points have the control's own coordinates, in words: neighbouring zones of a
 * transverse Mercator grid; the UTM zones of the place, of both hemispheres; the zones of the south-orientated kind
 * (EPSG method 9808, one for each odd meridian). Empty where there is none, or where the control agrees with the grid
 * itself. Coordinates are compared to 500 m, so that datums do not count.
 */
export function otherZones(grid: GridSystem, pairs: readonly ZonePair[]): readonly string[] {
  const first = pairs[0];
  if (first === undefined || agrees(grid, pairs)) return [];
  const fits = ({ proj4 }: Candidate): boolean => {
    const built = buildGridSystem(
      { ...grid.definition, code: null, name: 'another zone', wkt: null, unitName: null, areaOfUse: null, proj4 },
      null,
    );
    return built.ok && agrees(built.value, pairs);
  };
  const near = neighbours(grid).filter(fits);
  return (near.length > 0 ? near : usual(first).filter(fits)).map(({ name }) => name);
}

interface Candidate {
  readonly name: string;
  readonly proj4: string;
}

function neighbours(grid: GridSystem): readonly Candidate[] {
  const originDeg = gridParameter(grid, 'longitude of origin');
  if (originDeg === null || !['tmerc', 'utm'].includes(grid.projection.key)) return [];
  const text = bareTransverseMercator(grid);
  return ZONE_WIDTHS_DEG.flatMap((width) => [-width, width]).map((step) => {
    const meridianDeg = normaliseLongitudeDeg(originDeg + step);
    return { name: `central meridian ${meridianDeg}°`, proj4: `${text} +lon_0=${meridianDeg}` };
  });
}

/** Grids that control may be in without a word, at a place. */
function usual({ latitudeDeg, longitudeDeg }: ZonePair): readonly Candidate[] {
  const own = Math.floor((longitudeDeg + 180) / 6);
  const hemispheres = latitudeDeg < 0 ? (['S', 'N'] as const) : (['N', 'S'] as const);
  const utm = hemispheres.flatMap((hemisphere) =>
    [0, -1, 1].map((step) => {
      const zone = ((own + step + 60) % 60) + 1;
      return {
        name: `UTM zone ${zone}${hemisphere}`,
        proj4: `+proj=utm +zone=${zone}${hemisphere === 'S' ? ' +south' : ''} +ellps=WGS84`,
      };
    }),
  );
  const odd = 2 * Math.floor(longitudeDeg / 2) + 1;
  const lo = [0, -2, 2].map((step) => ({
    name: `Lo${odd + step}, south-orientated`,
    proj4: `+proj=tmerc +axis=wsu +lat_0=0 +lon_0=${odd + step} +k_0=1 +x_0=0 +y_0=0 +ellps=WGS84`,
  }));
  return [...utm, ...lo];
}

/** The projection of the grid without its central meridian; a zone is written out. */
function bareTransverseMercator(grid: GridSystem): string {
  const value = (name: string): number =>
    // PROJ: a parameter that is not given is 0.
    gridParameter(grid, name) ?? 0;
  const { semiMajorAxisM, flattening } = grid.projection.ellipsoid;
  const shape = flattening === 0 ? `+R=${semiMajorAxisM}` : `+a=${semiMajorAxisM} +rf=${1 / flattening}`;
  const [east, north] = grid.axes;
  const axes = east.direction === 'west' ? ` +axis=w${north.direction === 'south' ? 's' : 'n'}u` : '';
  return `+proj=tmerc${axes} +lat_0=${value('latitude of origin')} +k_0=${value('scale factor at origin')} +x_0=${present(falseEastingM(grid), 'false easting')} +y_0=${value('false northing')} ${shape}`;
}

function agrees(grid: GridSystem, pairs: readonly ZonePair[]): boolean {
  const axes: SiteAxes = {
    columns: [grid.axes[0].columnName, grid.axes[1].columnName],
    metresPerUnit: grid.axes[0].metresPerUnit,
  };
  const out: GridPair = { first: NaN, second: NaN };
  return pairs.every((pair) => {
    if (grid.forward(pair.latitudeDeg, pair.longitudeDeg, out) !== 'ok') return false;
    const place = toEastNorth(axes, out.first, out.second);
    return Math.hypot(place.eastM - pair.control.eastM, place.northM - pair.control.northM) < SAME_M;
  });
}
