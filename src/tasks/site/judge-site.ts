import { residualLimits, residualTests } from '../../core/adjustment/residual-tests.js';
import type { ResidualLimits, ResidualTest } from '../../core/adjustment/residual-tests.js';
import { UNCHECKED_BELOW } from '../../core/adjustment/residual-tests.js';
import { residualCovariance } from '../../core/adjustment/residual-spread.js';
import type { VarianceFactor } from '../../core/adjustment/variance-factor.js';
import { siteHeightShiftM } from '../../core/adjustment/site/site-transform.js';
import type { SiteTransform } from '../../core/adjustment/site/site-transform.js';
import { quadraticForm2 } from '../../core/numeric/symmetric2.js';
import { chiSquareQuantile } from '../../core/numeric/distributions/chi-square.js';
import { normalQuantile } from '../../core/numeric/distributions/normal-quantile.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { SiteLimits, SiteResidual, SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import type { FittedSite } from './fit-site.js';
import { heightTests, heightVarianceAtM2 } from './vertical-fit.js';
import type { ControlPair } from './control/pair-control.js';
import { circleOfDifference, planDifference } from './control/plan-difference.js';

/** A fitted site with every control point judged. */
export interface JudgedSite {
  readonly rows: readonly SiteResidualRow[];
  readonly horizontalLimits: ResidualLimits;
  readonly verticalLimits: ResidualLimits | null;
  /** The one coordinate to look at first: the largest value above its limit. Others may only be pulled by it. */
  readonly worst: {
    readonly pointId: string;
    readonly what: 'plan' | 'east' | 'north' | 'height';
    readonly value: number;
    readonly limit: number;
    readonly test: 'Baarda' | 'Pope';
  } | null;
}

/**
 * Tests of the points fitted, and the difference of the points kept out.
 *
 * Points fitted are judged by Baarda's test of each coordinate where sigmas are stated. Where they are not, by Pope's of both
 * coordinates of a place together: a mistake in both hides in the scatter that it makes of the other.
 * Points kept out are judged by the limits given and by the uncertainty of prediction, measurement and
 * control together. Given: the fit, its transform, all pairs in the order of the control file.
 */
export function judgeSite(
  fitted: FittedSite,
  transform: SiteTransform,
  pairs: readonly ControlPair[],
  limits: SiteLimits,
): JudgedSite {
  const tests = testsOf(fitted);
  const watch = createWorstWatch();
  const rows = pairs.map((pair) =>
    pair.role === 'check'
      ? checkRow(pair, fitted, transform, limits, tests.checkLimits)
      : fittedRow(pair, fitted, tests, watch),
  );
  const { horizontalLimits, verticalLimits } = tests;
  return { rows, horizontalLimits, verticalLimits, worst: watch.worst() };
}

/** The tests of all points fitted, and what each is held against. */
interface SiteTests extends Pick<JudgedSite, 'horizontalLimits' | 'verticalLimits'> {
  /** East and north of each pair in turn. */
  readonly plan: readonly ResidualTest[];
  readonly heights: readonly ResidualTest[];
  readonly checkLimits: { readonly chiSquare: number; readonly z: number };
}

function testsOf({
  horizontal,
  vertical,
  levels,
  sigmasAreStated,
  horizontalPairs,
  verticalPairs,
}: FittedSite): SiteTests {
  const { point: level } = levels;
  return {
    plan: residualTests(horizontal.equations, horizontal.adjustment, level),
    heights: vertical === null ? [] : heightTests(vertical, level),
    // Pope's test takes the chance of the whole set.
    horizontalLimits: residualLimits(
      horizontal.adjustment,
      level,
      level * (sigmasAreStated ? 2 : 1) * horizontalPairs.length,
    ),
    verticalLimits: vertical === null ? null : residualLimits(vertical.adjustment, level, level * verticalPairs.length),
    checkLimits: { chiSquare: chiSquareQuantile(1 - level, 2), z: normalQuantile(1 - level / 2) },
  };
}

type Worst = NonNullable<JudgedSite['worst']>;

/** Keeps the largest test value of those above their limits. */
interface WorstWatch {
  /** Whether a value is above its limit; a value or a limit that is not there is not. */
  readonly isAbove: (found: Omit<Worst, 'value' | 'limit'>, value: number | null, most: number | null) => boolean;
  readonly worst: () => Worst | null;
}

function createWorstWatch(): WorstWatch {
  let worst: Worst | null = null;
  return {
    isAbove(found, value, most) {
      if (value === null || most === null || !(Math.abs(value) > most)) return false;
      if (worst === null || Math.abs(value) > Math.abs(worst.value)) worst = { ...found, value, limit: most };
      return true;
    },
    worst: () => worst,
  };
}

/** A point fitted, by Baarda's test of each coordinate where sigmas are stated, else by Pope's. */
function fittedRow(pair: ControlPair, fitted: FittedSite, tests: SiteTests, watch: WorstWatch): SiteResidualRow {
  const { sigmasAreStated, heightSigmasAreStated, horizontalFactor, verticalFactor } = fitted;
  const { horizontalLimits, verticalLimits } = tests;
  const at = fitted.horizontalPairs.indexOf(pair);
  const up = fitted.verticalPairs.indexOf(pair);
  const [east, north, height] = [
    at < 0 ? undefined : tests.plan[2 * at],
    at < 0 ? undefined : tests.plan[2 * at + 1],
    up < 0 ? undefined : tests.heights[up],
  ];
  const { pointId } = pair.control;
  const baarda = (what: Worst['what'], test: ResidualTest | undefined, limits: ResidualLimits | null): boolean =>
    watch.isAbove({ pointId, what, test: 'Baarda' }, test?.standardised ?? null, limits?.baarda ?? null);
  const pope = (
    what: Worst['what'],
    studentised: number | null | undefined,
    factor: VarianceFactor | null,
    most: number | null | undefined,
  ): boolean => watch.isAbove({ pointId, what, test: 'Pope' }, floored(studentised ?? null, factor), most ?? null);
  const flags = [
    ...(sigmasAreStated
      ? [baarda('east', east, horizontalLimits), baarda('north', north, horizontalLimits)]
      : [pope('plan', east?.studentisedPair, horizontalFactor, horizontalLimits.popePair)]),
    heightSigmasAreStated
      ? baarda('height', height, verticalLimits)
      : pope('height', height?.studentised, verticalFactor, verticalLimits?.pope),
  ];
  const isUnchecked = [east, north, height].some((test) => test !== undefined && test.redundancy < UNCHECKED_BELOW);
  const isSuspect = flags.some(Boolean);
  const reasons: ProblemCode[] = [
    ...(isSuspect ? (['site-outlier'] as const) : []),
    ...(isUnchecked ? (['site-unchecked'] as const) : []),
  ];
  return {
    ...base(pair),
    east: fittedResidual(east, sigmasAreStated),
    north: fittedResidual(north, sigmasAreStated),
    height: fittedResidual(height, heightSigmasAreStated),
    circle95M:
      at < 0 || !sigmasAreStated
        ? null
        : circleOfDifference(residualCovariance(fitted.horizontal.equations, fitted.horizontal.adjustment, at)),
    limitM: null,
    verdict: isSuspect ? 'no' : isUnchecked ? 'review' : 'within',
    reasons,
  };
}

/** Where nothing may be concluded from a fit no point of it is within: those whose names look exchanged are suspect, the others unchecked. */
export function withoutConclusions(judged: JudgedSite, exchanged: readonly string[]): JudgedSite {
  const rows = judged.rows.map((row): SiteResidualRow => {
    if (exchanged.includes(row.pointId)) return { ...row, verdict: 'no', reasons: ['site-outlier'] };
    return row.verdict === 'within' ? { ...row, verdict: 'review', reasons: ['site-unchecked'] } : row;
  });
  return { ...judged, rows, worst: exchanged.length > 0 ? null : judged.worst };
}

function base(
  pair: ControlPair,
): Pick<SiteResidualRow, 'pointId' | 'role' | 'control' | 'latitudeDeg' | 'longitudeDeg'> {
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

/** Residuals below what coordinates are recorded to are no outliers among themselves. */
function floored(studentised: number | null, factor: VarianceFactor | null): number | null {
  if (studentised === null || factor === null || !factor.isFloored || factor.estimate === null) return studentised;
  return studentised * Math.sqrt(factor.estimate / factor.applied);
}

function checkRow(
  pair: ControlPair,
  fitted: FittedSite,
  transform: SiteTransform,
  limits: SiteLimits,
  most: { readonly chiSquare: number; readonly z: number },
): SiteResidualRow {
  let east: SiteResidual | null = null;
  let north: SiteResidual | null = null;
  let isOff = false;
  let isJudged = false;
  const sharedWith = pair.shared?.id ?? null;
  const plan = planDifference(pair, fitted, transform);
  if (plan !== null) {
    const { eastM: de, northM: dn, covarianceM2: own } = plan;
    const form = own === null ? null : quadraticForm2(own, de, dn);
    isOff ||=
      (form !== null && form > most.chiSquare) ||
      (limits.horizontalM !== null && Math.hypot(de, dn) > limits.horizontalM);
    isJudged ||= own !== null || limits.horizontalM !== null;
    east = predictedResidual(de, own === null ? null : Math.sqrt(own.xx));
    north = predictedResidual(dn, own === null ? null : Math.sqrt(own.yy));
  }
  let height: SiteResidual | null = null;
  const shiftM = siteHeightShiftM(transform, pair.source);
  if (shiftM !== null && pair.controlHeightM !== null && pair.measuredHeightM !== null) {
    const difference = pair.measuredHeightM + shiftM - pair.controlHeightM;
    const deviation = fitted.heightSigmasAreStated
      ? Math.sqrt(
          pair.heightVarianceM2 +
            (fitted.vertical === null
              ? 0
              : (fitted.verticalFactor?.applied ?? 1) * heightVarianceAtM2(fitted.vertical, pair.source, sharedWith)),
        )
      : null;
    isOff ||=
      (deviation !== null && Math.abs(difference) > most.z * deviation) ||
      (limits.verticalM !== null && Math.abs(difference) > limits.verticalM);
    isJudged ||= deviation !== null || limits.verticalM !== null;
    height = predictedResidual(difference, deviation);
  }
  return {
    ...base(pair),
    east,
    north,
    height,
    circle95M: circleOfDifference(plan?.covarianceM2 ?? null),
    limitM: plan === null ? null : limits.horizontalM,
    verdict: isOff ? 'no' : isJudged ? 'within' : 'review',
    reasons: isOff ? ['site-check-exceeds'] : isJudged ? [] : ['site-unchecked'],
  };
}

function predictedResidual(residualM: number, sigmaM: number | null): SiteResidual {
  return { residualM, sigmaM, redundancy: null, baarda: null, pope: null, leftOutM: null, detectableM: null };
}
