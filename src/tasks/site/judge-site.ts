import { residualLimits, residualTests } from '../../core/adjustment/residual-tests.js';
import type { ResidualLimits, ResidualTest } from '../../core/adjustment/residual-tests.js';
import { UNCHECKED_BELOW } from '../../core/adjustment/residual-tests.js';
import { siteHeightShiftM, siteSigma, transformToSite } from '../../core/adjustment/site-transform.js';
import type { SiteTransform } from '../../core/adjustment/site-transform.js';
import { quadraticForm2 } from '../../core/numeric/symmetric2.js';
import { CHI_SQUARE_2_95, VERTICAL_95 } from '../../core/observation/confidence-factors.js';
import type { ProblemCode } from '../../records/problem-codes.js';
import type { SiteLimits, SiteResidual, SiteResidualRow } from '../../records/site-fit.js';
import type { FittedSite } from './fit-site.js';
import type { ControlPair } from './pair-control.js';

/** A fitted site with every control point judged. */
export interface JudgedSite {
  readonly rows: readonly SiteResidualRow[];
  readonly horizontalLimits: ResidualLimits;
  readonly verticalLimits: ResidualLimits | null;
  /** The one coordinate to look at first: the largest value above its limit. Others may only be pulled by it. */
  readonly worst: { readonly pointId: string; readonly what: 'east' | 'north' | 'height'; readonly value: number; readonly test: 'Baarda' | 'Pope' } | null;
}

/**
 * Tests of the points fitted, and the difference of the points kept out.
 *
 * Points fitted are judged by Baarda's test where sigmas are stated and by Pope's where they are not.
 * Points kept out are judged by the limits given and by the uncertainty of prediction, measurement and
 * control together. Given: the fit, its transform, all pairs in the order of the control file.
 */
export function judgeSite(fitted: FittedSite, transform: SiteTransform, pairs: readonly ControlPair[], limits: SiteLimits): JudgedSite {
  const { horizontal, vertical } = fitted;
  const plan = residualTests(horizontal.equations, horizontal.adjustment);
  const heights = vertical === null ? [] : residualTests(vertical.equations, vertical.adjustment);
  const horizontalLimits = residualLimits(horizontal.adjustment);
  const verticalLimits = vertical === null ? null : residualLimits(vertical.adjustment);
  let worst: JudgedSite['worst'] = null;
  const consider = (pair: ControlPair, what: 'east' | 'north' | 'height', test: ResidualTest | undefined, stated: boolean, limit: ResidualLimits | null): boolean => {
    const value = stated ? test?.standardised : test?.studentised;
    const most = stated ? limit?.baarda : limit?.pope;
    if (value == null || most == null || !(Math.abs(value) > most)) return false;
    if (worst === null || Math.abs(value) > Math.abs(worst.value)) worst = { pointId: pair.control.pointId, what, value, test: stated ? 'Baarda' : 'Pope' };
    return true;
  };
  const rows = pairs.map((pair): SiteResidualRow => {
    const at = fitted.horizontalPairs.indexOf(pair);
    const up = fitted.verticalPairs.indexOf(pair);
    if (pair.role === 'check') return checkRow(pair, fitted, transform, limits);
    const [east, north, height] = [at < 0 ? undefined : plan[2 * at], at < 0 ? undefined : plan[2 * at + 1], up < 0 ? undefined : heights[up]];
    const flags = [
      consider(pair, 'east', east, fitted.sigmasAreStated, horizontalLimits),
      consider(pair, 'north', north, fitted.sigmasAreStated, horizontalLimits),
      consider(pair, 'height', height, fitted.heightSigmasAreStated, verticalLimits),
    ];
    const isUnchecked = [east, north, height].some((test) => test !== undefined && test.redundancy < UNCHECKED_BELOW);
    const isSuspect = flags.some(Boolean);
    const reasons: ProblemCode[] = [...(isSuspect ? (['site-outlier'] as const) : []), ...(isUnchecked ? (['site-unchecked'] as const) : [])];
    return { ...base(pair), east: fittedResidual(east, fitted.sigmasAreStated), north: fittedResidual(north, fitted.sigmasAreStated), height: fittedResidual(height, fitted.heightSigmasAreStated), verdict: isSuspect ? 'suspect' : isUnchecked ? 'unchecked' : 'within', reasons };
  });
  return { rows, horizontalLimits, verticalLimits, worst };
}

function base(pair: ControlPair): Pick<SiteResidualRow, 'pointId' | 'role' | 'control' | 'latitudeDeg' | 'longitudeDeg'> {
  const { latitudeDeg, longitudeDeg } = pair.measured.station;
  return { pointId: pair.control.pointId, role: pair.role, control: pair.control, latitudeDeg, longitudeDeg };
}

function fittedResidual(test: ResidualTest | undefined, stated: boolean): SiteResidual | null {
  if (test === undefined) return null;
  return {
    residualM: test.residual,
    sigmaM: null,
    redundancy: test.redundancy,
    baarda: stated ? test.standardised : null,
    pope: test.studentised,
    leftOutM: test.leftOut,
    detectableM: stated ? test.detectable : null,
  };
}

function checkRow(pair: ControlPair, fitted: FittedSite, transform: SiteTransform, limits: SiteLimits): SiteResidualRow {
  const sigma = siteSigma(transform, pair.source);
  const { scale, rotationRad } = transform.horizontal;
  let east: SiteResidual | null = null;
  let north: SiteResidual | null = null;
  let isOff = false;
  if (pair.target !== null) {
    const predicted = transformToSite(transform.horizontal, pair.source);
    const [de, dn] = [predicted.eastM - pair.target.eastM, predicted.northM - pair.target.northM];
    const s = pair.sourceCovariance;
    const t = pair.targetCovariance;
    const [c, q] = [scale * Math.cos(rotationRad), scale * Math.sin(rotationRad)];
    const stated = fitted.sigmasAreStated;
    const xx = c * c * s.xx - 2 * c * q * s.xy + q * q * s.yy + t.xx + sigma.eastM ** 2;
    const yy = q * q * s.xx + 2 * c * q * s.xy + c * c * s.yy + t.yy + sigma.northM ** 2;
    const xy = c * q * (s.xx - s.yy) + (c * c - q * q) * s.xy + t.xy;
    const form = stated ? quadraticForm2({ xx, xy, yy }, de, dn) : null;
    isOff ||= (form !== null && form > CHI_SQUARE_2_95) || (limits.horizontalM !== null && Math.hypot(de, dn) > limits.horizontalM);
    east = predictedResidual(de, stated ? Math.sqrt(xx) : null);
    north = predictedResidual(dn, stated ? Math.sqrt(yy) : null);
  }
  let height: SiteResidual | null = null;
  const shiftM = siteHeightShiftM(transform, pair.source);
  if (shiftM !== null && pair.controlHeightM !== null && pair.measuredHeightM !== null) {
    const difference = pair.measuredHeightM + shiftM - pair.controlHeightM;
    const deviation = fitted.heightSigmasAreStated ? Math.sqrt(pair.heightVarianceM2 + (sigma.heightM ?? 0) ** 2) : null;
    isOff ||= (deviation !== null && Math.abs(difference) > VERTICAL_95 * deviation) || (limits.verticalM !== null && Math.abs(difference) > limits.verticalM);
    height = predictedResidual(difference, deviation);
  }
  return { ...base(pair), east, north, height, verdict: isOff ? 'suspect' : 'within', reasons: isOff ? ['site-check-exceeds'] : [] };
}

function predictedResidual(residualM: number, sigmaM: number | null): SiteResidual {
  return { residualM, sigmaM, redundancy: null, baarda: null, pope: null, leftOutM: null, detectableM: null };
}
