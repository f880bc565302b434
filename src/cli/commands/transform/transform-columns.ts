import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import { GEOCENTRIC, GEOGRAPHIC, HEIGHTS, TOPOCENTRIC } from '../../../io/tables/points/place-columns.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { HeightKind } from '../../../records/points/point.js';
import type { SiteFigures } from '../../../tasks/site/apply-site.js';
import type { Form, PointOnTheWay } from '../../../tasks/transform/point-on-the-way.js';

/** A point where it has arrived. One record serves a whole run. */
export interface ArrivedPlace {
  row: Pick<PlaceRow, 'pointId'>;
  point: PointOnTheWay;
}

type ArrivedColumn = Column<never, ArrivedPlace>;

/** What a run writes of each point. */
export interface ArrivedTable {
  /** The form of the position; null: it stands elsewhere, as in the geometry of GeoJSON. */
  readonly position: Form | null;
  /** Names of a pair in a plane. */
  readonly pair: readonly string[];
  readonly heights: readonly HeightKind[];
  readonly hasGeoid: boolean;
  readonly hasSite: boolean;
}

const ID: ArrivedColumn = column({
  name: 'point_id',
  kind: 'id',
  get: ({ row }) => row.pointId,
  describe: 'identifier of the point',
});

/** A coordinate in metres. */
function metres(name: string, get: (point: PointOnTheWay) => number, describe: string): ArrivedColumn {
  return column({ name, kind: 'number', unit: 'm', get: ({ point }) => get(point), describe });
}

const PAIR = 'the pair of the grid, named by its axes and their unit; `ground_…` on the ground; that of the site';
const SPACE = 'geocentric, where the target is';
const ABOUT = 'about the origin of `--topocentric-at`; up is no height';

const PLACE: readonly ArrivedColumn[] = [
  column({
    name: GEOGRAPHIC[0],
    kind: 'latitude',
    unit: 'deg',
    get: ({ point }) => point.latitudeDeg,
    describe: 'latitude, north positive, where the target is no grid',
  }),
  column({
    name: GEOGRAPHIC[1],
    kind: 'longitude',
    unit: 'deg',
    get: ({ point }) => point.longitudeDeg,
    describe: 'longitude, east positive, where the target is no grid',
  }),
];

/** The columns of a position in each form, given the names of a pair in a plane. */
function positionColumns(form: Form, pair: readonly string[]): readonly ArrivedColumn[] {
  switch (form) {
    case 'place':
      return PLACE;
    case 'geocentric':
      return [
        metres(GEOCENTRIC[0], ({ xM }) => xM, SPACE),
        metres(GEOCENTRIC[1], ({ yM }) => yM, SPACE),
        metres(GEOCENTRIC[2], ({ zM }) => zM, SPACE),
      ];
    case 'topocentric':
      return [
        metres(TOPOCENTRIC[0], ({ eastM }) => eastM, ABOUT),
        metres(TOPOCENTRIC[1], ({ northM }) => northM, ABOUT),
        metres(TOPOCENTRIC[2], ({ upM }) => upM, ABOUT),
      ];
    case 'plane':
      return pair.map((name, index) =>
        column({
          name,
          kind: 'number',
          decimals: DECIMALS.metres,
          get: index === 0 ? ({ point }) => point.first : ({ point }) => point.second,
          describe: PAIR,
        }),
      );
  }
}

const HEIGHT_COLUMNS: Readonly<Record<HeightKind, ArrivedColumn>> = {
  orthometric: column({
    name: HEIGHTS[1],
    kind: 'number',
    unit: 'm',
    get: ({ point }) => point.orthometricHeightM,
    describe: 'height above the geoid, where it is known',
  }),
  ellipsoidal: column({
    name: HEIGHTS[0],
    kind: 'number',
    unit: 'm',
    get: ({ point }) => point.ellipsoidalHeightM,
    describe: 'height above the ellipsoid, where it is known',
  }),
};

const GEOID: ArrivedColumn = column({
  name: 'geoid_height_m',
  kind: 'number',
  unit: 'm',
  get: ({ point }) => point.geoidHeightM,
  describe: 'geoid above the ellipsoid, where heights went through one',
});

/** A figure of the site that a point went through. */
function siteColumn(name: string, get: (site: SiteFigures) => number | null, describe: string): ArrivedColumn {
  return column({
    name,
    kind: 'number',
    unit: 'm',
    get: ({ point: { site } }) => (site === null ? null : get(site)),
    describe,
  });
}

const SITE_SIGMA = 'one sigma of the fit itself, without that of the point';

/** What a use of a site adds. */
export const SITE_COLUMNS: readonly ArrivedColumn[] = [
  siteColumn('outside_control_m', ({ outsideM }) => outsideM, 'how far outside the control of the site; 0 inside'),
  siteColumn('site_sigma_east_m', ({ sigmaEastM }) => sigmaEastM, SITE_SIGMA),
  siteColumn('site_sigma_north_m', ({ sigmaNorthM }) => sigmaNorthM, SITE_SIGMA),
  siteColumn('site_sigma_height_m', ({ sigmaHeightM }) => sigmaHeightM, SITE_SIGMA),
];

/** The columns of points that were carried over, in order, before the other columns of the input. */
export function arrivedColumns({ position, pair, heights, hasGeoid, hasSite }: ArrivedTable): readonly ArrivedColumn[] {
  return [
    ID,
    ...(position === null ? [] : positionColumns(position, pair)),
    ...heights.map((kind) => HEIGHT_COLUMNS[kind]),
    ...(hasGeoid ? [GEOID] : []),
    ...(hasSite ? SITE_COLUMNS : []),
  ];
}

/** Every column that a run may write, the four forms of a position one after another; for help and pages. */
export function everyArrivedColumn(pair: readonly [string, string]): readonly ArrivedColumn[] {
  return [
    ID,
    ...(['plane', 'place', 'geocentric', 'topocentric'] as const).flatMap((form) => positionColumns(form, pair)),
    HEIGHT_COLUMNS.orthometric,
    HEIGHT_COLUMNS.ellipsoidal,
    GEOID,
    ...SITE_COLUMNS,
  ];
}
