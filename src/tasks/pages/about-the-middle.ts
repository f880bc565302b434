import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geocentricToLocal, localFrameAt } from '../../core/ellipsoid/local-frame.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';
import type { ReportPlace } from '../../records/reports/reduction-report.js';

/** Places laid out about the middle of them all, east to the right and north up, where no grid is named. */
export interface AboutTheMiddle {
  readonly middle: GeodeticPoint;
  readonly placeOf: (position: GeocentricPoint) => ReportPlace;
}

/** Given: geocentric positions, metres; of none the middle is that of the Earth, and nothing is laid out. */
export function aboutTheMiddle(positions: readonly GeocentricPoint[], ellipsoid: Ellipsoid): AboutTheMiddle {
  const sum = { xM: 0, yM: 0, zM: 0 };
  for (const { xM, yM, zM } of positions) {
    sum.xM += xM;
    sum.yM += yM;
    sum.zM += zM;
  }
  const all = Math.max(1, positions.length);
  const origin = { xM: sum.xM / all, yM: sum.yM / all, zM: sum.zM / all };
  const middle = geocentricToGeodetic(origin, ellipsoid);
  const frame = localFrameAt(middle.latitudeDeg, middle.longitudeDeg);
  return {
    middle,
    placeOf({ xM, yM, zM }) {
      const { eastM, northM } = geocentricToLocal(frame, {
        xM: xM - origin.xM,
        yM: yM - origin.yM,
        zM: zM - origin.zM,
      });
      return { first: eastM, second: northM };
    },
  };
}
