import { geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import { emptyGridPairAndFactors } from '../../../core/grid/factors/grid-factors.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import type { GeodeticPoint } from '../../../records/points/point.js';
import type { NetworkPoint } from '../../../records/reports/network-report.js';
import type { ReportPlace } from '../../../records/reports/reduction-report.js';
import { aboutTheMiddle } from '../../pages/about-the-middle.js';
import { localAxes } from '../../pages/report-axes.js';
import type { ReportAxes } from '../../pages/report-axes.js';
import type { NetworkSystems } from '../input/network-input.js';

/** How places of a network are laid on a plan. */
export interface PlanPlaces {
  readonly axes: ReportAxes;
  /** Null: not on the grid. */
  readonly placeOf: (place: GeodeticPoint) => ReportPlace | null;
  /** What is taken off an azimuth to have it from the top of the plan, degrees: the convergence. */
  readonly turnAt: (point: NetworkPoint) => number;
}

/** On the grid, or without one along east and north of the middle of the stations. */
export function planPlaces(points: readonly NetworkPoint[], { grid, ellipsoid }: NetworkSystems): PlanPlaces {
  return grid === null ? onMiddle(points, ellipsoid) : onGrid(grid);
}

function onGrid(grid: GridSystem): PlanPlaces {
  const held = emptyGridPairAndFactors();
  return {
    axes: grid.axes,
    placeOf({ latitudeDeg, longitudeDeg }) {
      const pair = { first: NaN, second: NaN };
      return grid.forward(latitudeDeg, longitudeDeg, pair) === 'ok' ? pair : null;
    },
    turnAt({ geodetic }) {
      if (geodetic === null) return 0;
      const status = grid.forwardWithFactors(geodetic.latitudeDeg, geodetic.longitudeDeg, held);
      return status === 'ok' ? held.convergenceDeg : 0;
    },
  };
}

function onMiddle(points: readonly NetworkPoint[], ellipsoid: NetworkSystems['ellipsoid']): PlanPlaces {
  const laidOut = aboutTheMiddle(
    points.flatMap(({ position }) => position ?? []),
    ellipsoid,
  );
  const { middle } = laidOut;
  const sinLatitude = Math.sin(middle.latitudeDeg * RADIANS_PER_DEGREE);
  return {
    axes: localAxes('of the middle'),
    placeOf: (place) => laidOut.placeOf(geodeticToGeocentric(place, ellipsoid)),
    // Meridians of the place and of the middle meet at the pole.
    turnAt: ({ geodetic }) => (geodetic === null ? 0 : (geodetic.longitudeDeg - middle.longitudeDeg) * sinLatitude),
  };
}
