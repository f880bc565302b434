// The public surface: a table of contents of what other programs may build on. Degrees and metres
// outside, no rounding, bad data as problems. What is not named here may change without notice.
export { VERSION } from './records/version.js';

export { formatDms, parseAngle } from './core/numeric/angle-text.js';
export { parseDecimal } from './core/numeric/decimal-text.js';
export { formatFixed } from './core/numeric/format-fixed.js';

export { GRS80, WGS84, ellipsoidFrom } from './core/geodesy/ellipsoid.js';
export type { Ellipsoid } from './core/geodesy/ellipsoid.js';
export { geocentricToGeodetic, geodeticToGeocentric } from './core/geodesy/geocentric.js';
export { createGeodesic } from './core/geodesy/geodesic.js';
export type { Geodesic, GeodesicLine } from './core/geodesy/geodesic.js';
export { createShiftFunction } from './core/geodesy/shift-function.js';
export { shiftFromSettings } from './core/geodesy/shift-from-settings.js';
export type { Shift } from './core/geodesy/shift-definition.js';
export { findOperations, operationByCode } from './core/geodesy/operations.js';
export { movePoint } from './core/geodesy/plate-motion.js';
export { platePole } from './core/geodesy/plate-pole.js';
export { geocentricToLocal, localFrameAt, localToGeocentric } from './core/geodesy/local-frame.js';
export type { LocalFrame } from './core/geodesy/local-frame.js';
export { gaussRadiusM } from './core/geodesy/radii.js';

export { fitHeights } from './core/adjustment/fit-heights.js';
export { fitSimilarity } from './core/adjustment/fit-similarity.js';
export { residualLimits, residualTests } from './core/adjustment/residual-tests.js';
export type { SiteDocument } from './core/adjustment/site-document.js';
export { siteSigma, transformBack, transformToSite } from './core/adjustment/site-transform.js';
export type { SiteTransform } from './core/adjustment/site-transform.js';

export { buildGeographicSystem } from './core/grid/build-geographic-system.js';
export { createGridShift } from './core/grid/grid-shift.js';
export { createGroundScale } from './core/grid/ground-scale.js';
export { buildGridSystem } from './core/grid/build-grid-system.js';
export { combinedFactor, elevationFactor } from './core/grid/elevation-factor.js';
export { gridLine } from './core/grid/grid-line.js';
export { emptyGridPairAndFactors, gridFactorsAt } from './core/grid/grid-factors.js';
export type { GridSystem } from './core/grid/grid-system.js';
export { parseProjString } from './core/grid/parse-proj-string.js';

export { createGeoidHeight } from './core/geoid/geoid-height.js';
export type { GeoidModel } from './core/geoid/geoid-height.js';
export { ellipsoidalHeightM, orthometricHeightM } from './core/geoid/orthometric-height.js';

export { refusals } from './core/observation/acceptance.js';
export { baseCorrection, translate } from './core/observation/base-correction.js';
export { combineOccupations } from './core/observation/combine-occupations.js';
export { reducePole } from './core/observation/pole-reduction.js';
export { positionalUncertainty } from './core/observation/positional-uncertainty.js';
export { repeatTest } from './core/observation/repeat-test.js';
export { splitCombined } from './core/observation/split-combined.js';
export { robustAverage } from './core/observation/robust-average.js';
export { occupationUncertainty } from './core/observation/uncertainty-components.js';
export { dayVariance } from './core/quality/day-variance.js';
export type { Contrast, ContrastLink, DayVarianceEstimate } from './core/quality/day-variance.js';
export { correctionStream } from './core/planning/correction-stream.js';
export { coverageRing } from './core/planning/coverage-ring.js';
export { occupationPlan } from './core/planning/occupation-plan.js';
export { oneCentre } from './core/planning/one-centre.js';
export { createPrecisionModel } from './core/planning/precision-model.js';
export { createPredictor } from './core/planning/prediction.js';
export { usableRange } from './core/planning/usable-range.js';

export { createSiteApplier } from './tasks/apply-site.js';
export { figureArea } from './tasks/figure-area.js';
export { joinPoints } from './tasks/join-points.js';
export { polarPoint } from './tasks/polar-points.js';
export { combinePoints } from './tasks/combine-points.js';
export { explainPoint, workingText } from './tasks/explain/explain-point.js';
export { placeBases } from './tasks/plan/place-bases.js';
export { predictTargets } from './tasks/plan/predict-targets.js';
export type { PlanSetup, PlanTarget } from './tasks/plan/plan-target.js';
export { prepareBases } from './tasks/prepare-bases.js';
export { createPointTransformer } from './tasks/transform-point.js';
export type { TransformSetup } from './tasks/transform-setup.js';
export { emptyTransformedPoint } from './tasks/transformed-point.js';
export { createReducer } from './tasks/reduce-points.js';
export type { Reducer, ReductionListener } from './tasks/reduce-points.js';
export type { ReductionSetup } from './tasks/reduction-setup.js';

export type { Fix } from './records/fix.js';
export type { Outcome } from './records/outcome.js';
export type { GeocentricPoint, GeodeticPoint, LocalCovariance, LocalVector } from './records/point.js';
export type { Problem } from './records/problem.js';
export type { ReducedPoint } from './records/reduced-point.js';
export type { Session } from './records/session.js';
