import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../core/ellipsoid/local-frame.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import { unitOfSize } from '../../core/grid/systems/grid-units.js';
import { entryAt } from '../../records/present.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { NetworkPoint } from '../../records/reports/network-report.js';
import type { ReportAxis, ReportPlace } from '../../records/reports/reduction-report.js';
import type { NetworkSystems } from './network-input.js';

/** How places of a network are laid on a plan. */
export interface PlanPlaces {
  readonly axes: readonly [ReportAxis, ReportAxis];
  /** Null: not on the grid. */
  readonly placeOf: (place: GeodeticPoint) => ReportPlace | null;
  /** What is taken off an azimuth to have it from the top of the plan, degrees: the convergence. */
  readonly turnAt: (point: NetworkPoint) => number;
}

/** On the grid, or without one along east and north of the middle of the stations. */
export function planPlaces(points: readonly NetworkPoint[], { grid, ellipsoid }: NetworkSystems): PlanPlaces {
  return grid === null ? aboutTheMiddle(points, ellipsoid) : onGrid(grid);
}

function onGrid(grid: GridSystem): PlanPlaces {
  const held = emptyGridPairAndFactors();
  return {
    axes: [axisOf(grid, 0), axisOf(grid, 1)],
    placeOf({ latitudeDeg, longitudeDeg }) {
      const pair = { first: 0, second: 0 };
      return grid.forward(latitudeDeg, longitudeDeg, pair) === 'ok' ? pair : null;
    },
    turnAt({ geodetic }) {
      if (geodetic === null) return 0;
      const status = grid.forwardWithFactors(geodetic.latitudeDeg, geodetic.longitudeDeg, held);
      return status === 'ok' ? held.convergenceDeg : 0;
    },
  };
}

function axisOf({ axes }: GridSystem, index: 0 | 1): ReportAxis {
  const { columnName, abbreviation, direction, metresPerUnit } = entryAt(axes, index);
  return {
    columnName,
    name: columnName.slice(0, columnName.indexOf('_')),
    abbreviation,
    direction,
    unitName: unitOfSize(metresPerUnit)?.name ?? columnName.slice(columnName.indexOf('_') + 1),
    metresPerUnit,
  };
}

const LOCAL: PlanPlaces['axes'] = [
  {
    columnName: 'east_m',
    name: 'east of the middle',
    abbreviation: 'e',
    direction: 'east',
    unitName: 'metre',
    metresPerUnit: 1,
  },
  {
    columnName: 'north_m',
    name: 'north of the middle',
    abbreviation: 'n',
    direction: 'north',
    unitName: 'metre',
    metresPerUnit: 1,
  },
];

function aboutTheMiddle(points: readonly NetworkPoint[], ellipsoid: NetworkSystems['ellipsoid']): PlanPlaces {
  const sum = { xM: 0, yM: 0, zM: 0 };
  let count = 0;
  for (const { position } of points) {
    if (position === null) continue;
    sum.xM += position.xM;
    sum.yM += position.yM;
    sum.zM += position.zM;
    count += 1;
  }
  const all = Math.max(1, count);
  const origin = { xM: sum.xM / all, yM: sum.yM / all, zM: sum.zM / all };
  const middle = geocentricToGeodetic(origin, ellipsoid);
  const frame = localFrameAt(middle.latitudeDeg, middle.longitudeDeg);
  const sinLatitude = Math.sin(middle.latitudeDeg * RADIANS_PER_DEGREE);
  return {
    axes: LOCAL,
    placeOf(place) {
      const at = geodeticToGeocentric(place, ellipsoid);
      const { eastM, northM } = geocentricToLocal(frame, {
        xM: at.xM - origin.xM,
        yM: at.yM - origin.yM,
        zM: at.zM - origin.zM,
      });
      return { first: eastM, second: northM };
    },
    // Meridians of the place and of the middle meet at the pole.
    turnAt: ({ geodetic }) => (geodetic === null ? 0 : (geodetic.longitudeDeg - middle.longitudeDeg) * sinLatitude),
  };
}
