import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { geocentricInFrame, geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import type { PointOnTheWay } from '../point-on-the-way.js';
import type { Step } from '../step.js';
import { UNSAID } from '../step.js';

/**
 * Latitude, longitude and ellipsoidal height to X, Y, Z (EPSG method 9602).
 *
 * Note: a height that is not known is not made up. On the way the orthometric height, or 0, stands in: 100 m move a
 * point that is then shifted by about 1 mm per 60 m of shift. Back again the ellipsoidal height stays unknown.
 */
export function geocentricStep(ellipsoid: Ellipsoid): Step {
  return {
    forward: {
      needs: 'place',
      gives: 'geocentric',
      run(point) {
        point.heightStandsIn = point.ellipsoidalHeightM === null;
        const frame = localFrameAt(point.latitudeDeg, point.longitudeDeg);
        const { xM, yM, zM } = geocentricInFrame(frame, heightOnTheWay(point), ellipsoid);
        point.xM = xM;
        point.yM = yM;
        point.zM = zM;
        return null;
      },
    },
    inverse: {
      needs: 'geocentric',
      gives: 'place',
      run(point) {
        const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geocentricToGeodetic(point, ellipsoid);
        point.latitudeDeg = latitudeDeg;
        point.longitudeDeg = longitudeDeg;
        if (!point.heightStandsIn) point.ellipsoidalHeightM = ellipsoidalHeightM;
        return null;
      },
    },
    ...UNSAID,
  };
}

/** The ellipsoidal height, or what stands in for it, metres. */
export function heightOnTheWay({ ellipsoidalHeightM, orthometricHeightM }: PointOnTheWay): number {
  // A point without any height goes its way on the ellipsoid.
  return ellipsoidalHeightM ?? orthometricHeightM ?? 0;
}
