import { siteAtWork } from '../../core/adjustment/site/site-at-work.js';
import { axesAtWork } from '../../core/adjustment/site/site-axes.js';
import type { SiteDocument } from '../../core/adjustment/site/site-document.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem, warningProblem } from '../../records/problem.js';

const BEYOND =
  'add control beyond the point and fit again; --extrapolate computes it all the same, with its growing sigma';
/** Hints where a point lies inside once it is taken for one of the other side. */
const OTHER_WAY: Readonly<Record<'to-site' | 'from-site', string>> = {
  'to-site': 'as a coordinate of the site it lies inside its control: --inverse takes points of the site back',
  'from-site': 'as a coordinate of the grid it lies inside the control: without --inverse points are taken to the site',
};

/** A point before or after a site's transformation: a pair in the axes and unit of its side. */
export interface SitePair {
  readonly first: number;
  readonly second: number;
  /** Of the kind the site was fitted with (`SiteDocument.heightKind`); null: no height. */
  readonly heightM: number | null;
}

/** What the fit itself adds to the uncertainty of a point. */
export interface SiteFigures {
  /** Metres outside the control's hull; 0 inside. */
  readonly outsideM: number;
  /** One sigma of the fit along the site's east and north, and in height (null: heights are not fitted). */
  readonly sigmaEastM: number;
  readonly sigmaNorthM: number;
  readonly sigmaHeightM: number | null;
}

/** A point on the other side. */
export interface SiteResult extends SitePair, SiteFigures {}

export interface SiteUse {
  /** `to-site`: from the source system; `from-site`: back to it. */
  readonly direction: 'to-site' | 'from-site';
  /** Points beyond the buffer are computed and warned of instead of refused. */
  readonly extrapolate: boolean;
}

/**
 * Moves points onto a fitted site or back.
 *
 * Given: the site; the direction. Returned: a function from a point to the same point on the other side.
 * A height gets what the plane adds there; where heights are not fitted it stays as it is. Problems of
 * the function: site-outside-control for a point farther outside the control than the site's buffer,
 * an error, or a warning with the growing sigma when extrapolating.
 *
 * @example
 * // A shift of (1000, 2000) without turn or scale: 50 m of 100 m are inside the control, 500 m beyond it are refused.
 * const axes = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 };
 * const corner = (eastM, northM) => ({ eastM, northM });
 * const horizontal = { sourceOrigin: corner(0, 0), targetOrigin: corner(1000, 2000), scale: 1, rotationRad: 0 };
 * const hull = [corner(0, 0), corner(100, 0), corner(100, 100), corner(0, 100)];
 * const heights = { vertical: null, verticalCovariance: null, verticalHull: null };
 * const transform = { horizontal, horizontalCovariance: new Array(16).fill(0), hull, ...heights };
 * const site = { transform, sourceAxes: axes, siteAxes: axes, bufferM: 10 };
 * const move = createSiteApplier(site, { direction: 'to-site', extrapolate: false });
 * move({ first: 50, second: 50, heightM: 7 }).value.second; // 2050
 * move({ first: 600, second: 50, heightM: 7 }).problems[0].code; // 'site-outside-control'
 */
export function createSiteApplier(site: SiteDocument, use: SiteUse): (pair: SitePair) => Outcome<SiteResult> {
  const { transform, sourceAxes, siteAxes, bufferM } = site;
  const toSite = use.direction === 'to-site';
  const work = siteAtWork(transform);
  const from = axesAtWork(toSite ? sourceAxes : siteAxes);
  const to = axesAtWork(toSite ? siteAxes : sourceAxes);
  /** Whether the same numbers lie inside when they are taken for coordinates of the other side. */
  const isInsideTheOtherWay = (pair: SitePair): boolean => {
    const taken = to.toEastNorth(pair.first, pair.second);
    return work.outsideM(toSite ? work.toSource(taken) : taken) <= bufferM;
  };
  return (pair) => {
    const given = from.toEastNorth(pair.first, pair.second);
    const source = toSite ? given : work.toSource(given);
    const other = toSite ? work.toSite(given) : source;
    // A site without heights moves none.
    const shiftM = work.heightShiftM(source) ?? 0;
    const sigma = work.sigma(source);
    const outsideM = work.outsideM(source);
    const { first, second } = to.fromEastNorth(other);
    // Member by member: to spread one record into another takes longer than all that is computed here.
    const result: SiteResult = {
      first,
      second,
      heightM: pair.heightM === null ? null : pair.heightM + (toSite ? shiftM : -shiftM),
      outsideM,
      sigmaEastM: sigma.eastM,
      sigmaNorthM: sigma.northM,
      sigmaHeightM: sigma.heightM,
    };
    if (!Number.isFinite(result.first) || !Number.isFinite(result.second)) {
      return failure(
        errorProblem('value-out-of-range', {
          message: `${pair.first}, ${pair.second} cannot be carried through the site`,
        }),
      );
    }
    if (outsideM <= bufferM) return success(result);
    const distance = `${formatFixed(outsideM, 1)} m outside the control of the site, which allows ${formatFixed(bufferM, 1)} m`;
    if (!use.extrapolate) {
      return failure(
        errorProblem('site-outside-control', {
          message: `the point is ${distance}`,
          received: formatFixed(outsideM, 1),
          expected: `at most ${formatFixed(bufferM, 1)}`,
          hint: isInsideTheOtherWay(pair) ? OTHER_WAY[use.direction] : BEYOND,
        }),
      );
    }
    const height = sigma.heightM === null ? '' : `, height ${millimetres(sigma.heightM)}`;
    return success(result, [
      warningProblem('site-outside-control', {
        message: `the point is ${distance}: one sigma of the site alone is east ${millimetres(sigma.eastM)}, north ${millimetres(sigma.northM)}${height}`,
        hint: 'nothing checks the site there; do not set out from it',
      }),
    ]);
  };
}

function millimetres(value: number): string {
  return `${formatFixed(value * 1000, 1)} mm`;
}
