import { eigen2 } from '../numeric/symmetric2.js';
import type { PlanePoint } from './convex-hull.js';

/** Below this ratio control is close to one line; common practice, no published source. */
export const SMALLEST_SPREAD_RATIO = 0.1;

/** How control lies around its mean. */
export interface ControlSpread {
  /** Mean of the places. */
  readonly centre: PlanePoint;
  /** Smaller over larger eigenvalue of the scatter: 1 for a square or circle, 0 for a line; 0 for one place. */
  readonly eigenvalueRatio: number;
  /** Largest distance between a place and the mean, metres. */
  readonly radiusM: number;
}

/** Scatter of control about its mean. Given: at least one place. */
export function controlSpread(points: readonly PlanePoint[]): ControlSpread {
  let eastM = 0;
  let northM = 0;
  const first = points[0] as PlanePoint;
  for (const point of points) {
    eastM += (point.eastM - first.eastM) / points.length;
    northM += (point.northM - first.northM) / points.length;
  }
  const centre = { eastM: first.eastM + eastM, northM: first.northM + northM };
  let [xx, xy, yy, radiusM] = [0, 0, 0, 0];
  for (const point of points) {
    const e = point.eastM - centre.eastM;
    const n = point.northM - centre.northM;
    xx += e * e;
    xy += e * n;
    yy += n * n;
    radiusM = Math.max(radiusM, Math.hypot(e, n));
  }
  const { larger, smaller } = eigen2({ xx, xy, yy });
  return { centre, eigenvalueRatio: larger > 0 ? Math.max(0, smaller) / larger : 0, radiusM };
}
