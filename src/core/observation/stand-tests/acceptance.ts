import type { Fix } from '../../../records/points/fix.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { AcceptanceSettings } from '../../../records/session.js';

const ACCEPTED: readonly ProblemCode[] = Object.freeze([]);

/**
 * The larger horizontal sigma a fix reports: the semi-major axis of its one-sigma ellipse, metres,
 * or null where east or north is not stated.
 */
export function reportedHorizontalSigmaM(fix: Fix): number | null {
  const { sigmaEastM, sigmaNorthM, correlationEn } = fix;
  if (sigmaEastM === null || sigmaNorthM === null) return null;
  const eeM2 = sigmaEastM * sigmaEastM;
  const nnM2 = sigmaNorthM * sigmaNorthM;
  // A correlation that is not stated is taken for none.
  const enM2 = (correlationEn ?? 0) * sigmaEastM * sigmaNorthM;
  const halfDifference = 0.5 * (eeM2 - nnM2);
  return Math.sqrt(0.5 * (eeM2 + nnM2) + Math.sqrt(halfDifference * halfDifference + enM2 * enM2));
}

/**
 * Why an epoch is refused.
 *
 * Given: the fix; the session's limits (null: not applied; inclusive, a value equal to its limit
 * passes); the baseline, metres, null where it is unknown, which no limit refuses.
 * Returned: every reason in a fixed order; the same empty list for every accepted epoch.
 *
 * Notes:
 * 1. A solution that is not stated is not accepted.
 * 2. A limit on age, satellites, PDOP or sigma refuses an epoch that does not state it. A tilt that is
 *    not stated means a pole held plumb and is not refused.
 * 3. The horizontal sigma compared is `reportedHorizontalSigmaM`, per axis and one sigma. Receivers'
 *    figures run optimistic (common practice, no published source).
 *
 * @example
 * const limits = { solution: ['fixed'], maxCorrectionAgeS: 10, minSatellites: null, maxPdop: 4, maxTiltDeg: null };
 * const none = { maxBaselineM: null, maxSigmaHorizontalM: null, maxSigmaVerticalM: null };
 * refusals({ solution: 'float', correctionAgeS: 2, pdop: null }, { ...limits, ...none }, null); // ['epoch-not-fixed', 'epoch-pdop-unknown']
 * refusals({ solution: 'fixed', correctionAgeS: 10, pdop: 4 }, { ...limits, ...none }, null); // []
 */
export function refusals(fix: Fix, limits: AcceptanceSettings, baselineM: number | null): readonly ProblemCode[] {
  let codes: ProblemCode[] | null = null;
  if (fix.solution === null || !limits.solution.includes(fix.solution)) codes = withCode(codes, 'epoch-not-fixed');
  if (limits.maxCorrectionAgeS !== null) {
    if (fix.correctionAgeS === null) codes = withCode(codes, 'epoch-correction-age-unknown');
    else if (fix.correctionAgeS > limits.maxCorrectionAgeS) codes = withCode(codes, 'epoch-correction-age');
  }
  if (limits.minSatellites !== null) {
    if (fix.satellitesUsed === null) codes = withCode(codes, 'epoch-satellites-unknown');
    else if (fix.satellitesUsed < limits.minSatellites) codes = withCode(codes, 'epoch-satellites');
  }
  if (limits.maxPdop !== null) {
    if (fix.pdop === null) codes = withCode(codes, 'epoch-pdop-unknown');
    else if (fix.pdop > limits.maxPdop) codes = withCode(codes, 'epoch-pdop');
  }
  if (limits.maxTiltDeg !== null && fix.tiltDeg !== null && fix.tiltDeg > limits.maxTiltDeg) {
    codes = withCode(codes, 'epoch-tilt');
  }
  if (limits.maxBaselineM !== null && baselineM !== null && baselineM > limits.maxBaselineM) {
    codes = withCode(codes, 'epoch-baseline');
  }
  let sigmaUnknown = false;
  if (limits.maxSigmaHorizontalM !== null) {
    const sigmaM = reportedHorizontalSigmaM(fix);
    if (sigmaM === null) sigmaUnknown = true;
    else if (exceeds(sigmaM, limits.maxSigmaHorizontalM)) codes = withCode(codes, 'epoch-sigma-horizontal');
  }
  if (limits.maxSigmaVerticalM !== null) {
    if (fix.sigmaUpM === null) sigmaUnknown = true;
    else if (fix.sigmaUpM > limits.maxSigmaVerticalM) codes = withCode(codes, 'epoch-sigma-vertical');
  }
  if (sigmaUnknown) codes = withCode(codes, 'epoch-sigma-unknown');
  return codes ?? ACCEPTED;
}

/** Lists are made only for epochs that are refused. */
function withCode(codes: ProblemCode[] | null, code: ProblemCode): ProblemCode[] {
  if (codes === null) return [code];
  codes.push(code);
  return codes;
}

/** Above the limit by more than the rounding of a square root of squares. */
function exceeds(value: number, limit: number): boolean {
  return value > limit * (1 + 4 * Number.EPSILON);
}
