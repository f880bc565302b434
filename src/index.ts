// The public surface: a table of contents of what other programs may build on. Degrees and metres
// outside, no rounding, bad data as problems. What is not named here may change without notice.
export { VERSION } from './records/version.js';

export { formatDms, parseAngle } from './core/numeric/text/angle-text.js';
export { parseDecimal } from './core/numeric/text/decimal-text.js';
export { formatFixed } from './core/numeric/text/format-fixed.js';

export { GRS80, WGS84, ellipsoidFrom } from './core/ellipsoid/ellipsoid.js';
export type { Ellipsoid } from './core/ellipsoid/ellipsoid.js';
export { geocentricToGeodetic, geodeticToGeocentric } from './core/ellipsoid/geocentric.js';
export { createGeodesic } from './core/ellipsoid/geodesic.js';
export type { Geodesic, GeodesicLine } from './core/ellipsoid/geodesic.js';
export { createShiftFunction } from './core/frames/shifts/shift-function.js';
export { shiftFromSettings } from './core/frames/shifts/shift-from-settings.js';
export type { Shift } from './core/frames/shifts/shift-definition.js';
export { findOperations, operationByCode } from './core/frames/operations/operations.js';
export { movePoint } from './core/frames/plates/plate-motion.js';
export { platePole } from './core/frames/plates/plate-pole.js';
export { geocentricToLocal, localFrameAt, localToGeocentric } from './core/ellipsoid/local-frame.js';
export type { LocalFrame } from './core/ellipsoid/local-frame.js';
export { gaussRadiusM } from './core/ellipsoid/radii.js';

export { fitHeights } from './core/adjustment/fit-heights.js';
export { fitSimilarity } from './core/adjustment/fit-similarity.js';
export { residualLimits, residualTests } from './core/adjustment/residual-tests.js';
export type { SiteDocument } from './core/adjustment/site-document.js';
export { siteSigma, transformBack, transformToSite } from './core/adjustment/site-transform.js';
export type { SiteTransform } from './core/adjustment/site-transform.js';

export { adjustNetwork } from './core/network/adjust-network.js';
export type { AdjustedNetwork, NetworkChoice } from './core/network/adjust-network.js';
export type { BlockEquations, BlockObservation } from './core/network/block-equations.js';
export { leastSum } from './core/network/least-sum.js';
export type { Network } from './core/network/network.js';
export { adjustedPosition } from './core/network/solve-network.js';
export { varianceComponents } from './core/network/variance-components.js';
export { equationsOf } from './core/network/write-equations.js';
export { networkPoints, networkRelations } from './tasks/network/network-report.js';

export { buildGeographicSystem } from './core/grid/systems/build-geographic-system.js';
export { createGridShift } from './core/grid/plane/grid-shift.js';
export { createGroundScale } from './core/grid/factors/ground-scale.js';
export { buildGridSystem } from './core/grid/systems/build-grid-system.js';
export { combinedFactor, elevationFactor } from './core/grid/factors/elevation-factor.js';
export { gridLine } from './core/grid/factors/grid-line.js';
export { emptyGridPairAndFactors, gridFactorsAt } from './core/grid/factors/grid-factors.js';
export type { GridSystem } from './core/grid/systems/grid-system.js';
export { parseProjString } from './core/projection/definition/parse-proj-string.js';

export { createGeoidHeight } from './core/geoid/geoid-height.js';
export type { GeoidModel } from './core/geoid/geoid-height.js';
export { ellipsoidalHeightM, orthometricHeightM } from './core/geoid/orthometric-height.js';

export { refusals } from './core/observation/stand-tests/acceptance.js';
export { baseCorrection, translate } from './core/observation/base-correction.js';
export { combineOccupations } from './core/observation/repeats/combine-occupations.js';
export { reducePole } from './core/observation/pole-reduction.js';
export { positionalUncertainty } from './core/observation/uncertainty/positional-uncertainty.js';
export { repeatTest } from './core/observation/repeats/repeat-test.js';
export { splitCombined } from './core/observation/repeats/split-combined.js';
export { robustAverage } from './core/observation/averaging/robust-average.js';
export { occupationUncertainty } from './core/observation/uncertainty/uncertainty-components.js';
export { dayVariance } from './core/quality/day/day-variance.js';
export type { Contrast, ContrastLink, DayVarianceEstimate } from './core/quality/day/day-variance.js';
export { cusumChart } from './core/quality/register/cusum-chart.js';
export type { CusumChart } from './core/quality/register/cusum-chart.js';
export { judgeRegister } from './core/quality/register/judge-register.js';
export type { RegisterSeries } from './core/quality/register/register-series.js';
export { theilSenInterval } from './core/quality/register/theil-sen-interval.js';
export { correctionStream } from './core/planning/stream/correction-stream.js';
export { coverageRing } from './core/planning/coverage/coverage-ring.js';
export { occupationPlan } from './core/planning/time/occupation-plan.js';
export { oneCentre } from './core/planning/siting/one-centre.js';
export { createPrecisionModel } from './core/planning/precision-model.js';
export { createPredictor } from './core/planning/prediction.js';
export { usableRange } from './core/planning/usable-range.js';

export { checkPoints } from './tasks/check/check-points.js';
export type { Checks, ChecksAsked, NamedPoints } from './tasks/check/check-points.js';
export type { CheckRow, CheckSetup } from './tasks/check/judge/check-tolerances-setup.js';
export { createSiteApplier } from './tasks/site/apply-site.js';
export { figureArea } from './tasks/join/figure-area.js';
export { joinPoints } from './tasks/join/join-points.js';
export { polarPoint } from './tasks/join/polar-points.js';
export { comparedPoints } from './tasks/repeats/compared-points.js';
export { combinePoints } from './tasks/repeats/combine-points.js';
export { explainPoint, workingText } from './tasks/explain/explain-point.js';
export { placeBases } from './tasks/plan/place-bases.js';
export { predictTargets } from './tasks/plan/predict-targets.js';
export type { PlanSetup, PlanTarget } from './tasks/plan/plan-target.js';
export { prepareBases } from './tasks/bases/prepare-bases.js';
export { composeTransform } from './tasks/transform/compose-transform.js';
export { planTransform } from './tasks/transform/plan-transform.js';
export type { PlannedTransform, TransformRequest } from './tasks/transform/plan-transform.js';
export { emptyPointOnTheWay } from './tasks/transform/point-on-the-way.js';
export { reversedPlan } from './tasks/transform/transform-plan.js';
export type { TransformPlan } from './tasks/transform/transform-plan.js';
export { createReducer } from './tasks/reduce/reduce-points.js';
export type { Reducer, ReductionListener } from './tasks/reduce/reduce-points.js';
export type { ReductionSetup } from './tasks/reduce/reduction-setup.js';

export type { Fix } from './records/points/fix.js';
export type { Outcome } from './records/outcome.js';
export type { GeocentricPoint, GeodeticPoint, LocalCovariance, LocalVector } from './records/points/point.js';
export type { Problem } from './records/problem.js';
export type { ReducedPoint } from './records/points/reduced-point.js';
export type { Session } from './records/session.js';
