import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { topocentricAtGeocentric, topocentricAtGeodetic } from '../../../core/frames/shifts/shift-topocentric.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import type { Step } from '../step.js';
import { backwardsWord } from '../step.js';

/** The origin of topocentric coordinates: a place (EPSG 9837), or X, Y, Z (EPSG 9836). */
export type TopocentricOrigin =
  | { readonly kind: 'geodetic'; readonly at: GeodeticPoint }
  | { readonly kind: 'geocentric'; readonly at: GeocentricPoint };

/** X, Y, Z to east, north and up about an origin in the frame of `system`. */
export function topocentricStep(origin: TopocentricOrigin, system: GeographicSystem): Step {
  const { ellipsoid } = system;
  const topocentric =
    origin.kind === 'geodetic'
      ? topocentricAtGeodetic(origin.at, ellipsoid)
      : topocentricAtGeocentric(origin.at, ellipsoid);
  const code = origin.kind === 'geodetic' ? 'EPSG:9837' : 'EPSG:9836';
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geocentricToGeodetic(topocentric.origin, ellipsoid);
  const about = `${formatFixed(latitudeDeg, 9)}, ${formatFixed(longitudeDeg, 9)}, ${formatFixed(ellipsoidalHeightM, 4)} m above the ellipsoid of ${system.name}`;
  return {
    forward: {
      needs: 'geocentric',
      gives: 'topocentric',
      run(point) {
        const { eastM, northM, upM } = topocentric.fromGeocentric(point);
        point.eastM = eastM;
        point.northM = northM;
        point.upM = upM;
        return null;
      },
    },
    inverse: {
      needs: 'topocentric',
      gives: 'geocentric',
      run(point) {
        const { xM, yM, zM } = topocentric.toGeocentric(point);
        point.xM = xM;
        point.yM = yM;
        point.zM = zM;
        return null;
      },
    },
    said: (direction) => [
      `${direction === 'inverse' ? 'from' : 'to'} east, north and up about ${about} (${code})`,
      'up is along the normal at the origin and no height: level ground falls away by 0.08 m at 1 km and 7.8 m at 10 km',
    ],
    recorded: (direction) => [
      {
        id: code,
        name: `topocentric about ${about}${backwardsWord(direction)}`,
        source: { key: 'IOGP-373-7-2', locator: `method ${code.slice(5)}` },
      },
    ],
  };
}
