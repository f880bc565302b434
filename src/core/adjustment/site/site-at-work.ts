import type { PlanePoint } from '../convex-hull.js';
import type { Similarity } from '../fit-similarity.js';
import { isSurface, outsideControlM, siteHeightShiftM, siteSigma } from './site-transform.js';
import type { SiteSigma, SiteTransform } from './site-transform.js';

/** A site made ready for many points: what is the same for all of them stands once. Places are metres along east and north. */
export interface SiteAtWork {
  /** As `transformToSite` and `transformBack`. */
  readonly toSite: (source: PlanePoint) => PlanePoint;
  readonly toSource: (place: PlanePoint) => PlanePoint;
  /** As `siteHeightShiftM`, `siteSigma` and `outsideControlM`, of a source place. */
  readonly heightShiftM: (source: PlanePoint) => number | null;
  readonly sigma: (source: PlanePoint) => SiteSigma;
  readonly outsideM: (source: PlanePoint) => number;
}

/**
 * Makes a site ready. Every number is that of the functions named, to the last digit, which a property test holds.
 *
 * Given: the site. Returned: functions of a place.
 */
export function siteAtWork(site: SiteTransform): SiteAtWork {
  const { hull, verticalHull } = site;
  const control = insideOf(hull);
  const heights = verticalHull === null || isSameHull(hull, verticalHull) ? null : insideOf(verticalHull);
  return {
    ...movesOf(site.horizontal),
    heightShiftM: (source) => siteHeightShiftM(site, source),
    sigma: sigmaOfSite(site),
    // Most places are inside.
    outsideM: (source) =>
      control(source) && (heights === null || heights(source)) ? 0 : outsideControlM(site, source),
  };
}

function movesOf({
  sourceOrigin,
  targetOrigin,
  scale,
  rotationRad,
}: Similarity): Pick<SiteAtWork, 'toSite' | 'toSource'> {
  const [cosine, sine] = [Math.cos(rotationRad), Math.sin(rotationRad)];
  const [scaledCosine, scaledSine] = [scale * cosine, scale * sine];
  return {
    toSite({ eastM, northM }) {
      const x = eastM - sourceOrigin.eastM;
      const y = northM - sourceOrigin.northM;
      return {
        eastM: targetOrigin.eastM + x * scaledCosine - y * scaledSine,
        northM: targetOrigin.northM + x * scaledSine + y * scaledCosine,
      };
    },
    toSource({ eastM, northM }) {
      const x = (eastM - targetOrigin.eastM) / scale;
      const y = (northM - targetOrigin.northM) / scale;
      return { eastM: sourceOrigin.eastM + x * cosine + y * sine, northM: sourceOrigin.northM - x * sine + y * cosine };
    },
  };
}

/** J C Jᵀ with the rows of J in one array, which the next place writes over. */
function sigmaOfSite(site: SiteTransform): SiteAtWork['sigma'] {
  const { horizontal, horizontalCovariance, vertical, verticalCovariance } = site;
  if (vertical !== null && isSurface(vertical)) return (source) => siteSigma(site, source);
  const { sourceOrigin, scale, rotationRad } = horizontal;
  const [cosine, sine] = [Math.cos(rotationRad), Math.sin(rotationRad)];
  const plan = Float64Array.from(horizontalCovariance);
  const heights = vertical === null || verticalCovariance === null ? null : Float64Array.from(verticalCovariance);
  const row = new Float64Array(4);
  const rise = new Float64Array(3);
  return ({ eastM, northM }) => {
    const x = eastM - sourceOrigin.eastM;
    const y = northM - sourceOrigin.northM;
    const e = x * cosine - y * sine;
    const n = x * sine + y * cosine;
    row[0] = 1;
    row[1] = 0;
    row[2] = -scale * n;
    row[3] = e;
    const alongEastM = sigmaOf(row, plan);
    row[0] = 0;
    row[1] = 1;
    row[2] = scale * e;
    row[3] = n;
    const alongNorthM = sigmaOf(row, plan);
    if (heights === null || vertical === null) return { eastM: alongEastM, northM: alongNorthM, heightM: null };
    rise[0] = 1;
    rise[1] = eastM - vertical.origin.eastM;
    rise[2] = northM - vertical.origin.northM;
    return { eastM: alongEastM, northM: alongNorthM, heightM: sigmaOf(rise, heights) };
  };
}

/** As `spread` of a row with itself, in the same order. */
function sigmaOf(row: Float64Array, covariance: Float64Array): number {
  const size = row.length;
  let sum = 0;
  for (let i = 0; i < size; i += 1) {
    const own = row[i] as number;
    if (own === 0) continue;
    for (let j = 0; j < size; j += 1) sum += own * (covariance[i * size + j] as number) * (row[j] as number);
  }
  return Math.sqrt(Math.max(0, sum));
}

/** Whether places are inside a hull of three corners at least, found without a call for each side. */
function insideOf(hull: readonly PlanePoint[]): (place: PlanePoint) => boolean {
  const count = hull.length;
  const east = Float64Array.from(hull, ({ eastM }) => eastM);
  const north = Float64Array.from(hull, ({ northM }) => northM);
  return ({ eastM, northM }) => {
    let [fromEast, fromNorth] = [east[count - 1] as number, north[count - 1] as number];
    let isInside = count >= 3;
    for (let at = 0; at < count && isInside; at += 1) {
      const [toEast, toNorth] = [east[at] as number, north[at] as number];
      isInside = (toEast - fromEast) * (northM - fromNorth) - (toNorth - fromNorth) * (eastM - fromEast) >= 0;
      fromEast = toEast;
      fromNorth = toNorth;
    }
    return isInside;
  };
}

function isSameHull(a: readonly PlanePoint[], b: readonly PlanePoint[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ eastM, northM }, index) => eastM === b[index]?.eastM && northM === b[index]?.northM)
  );
}
