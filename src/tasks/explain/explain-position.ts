import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { screenLimitM } from '../../core/observation/averaging/screen-limit.js';
import { InternalError } from '../../records/internal-error.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { explainFrame } from './explain-frame.js';
import { degrees, geocentricText, metres, millimetres } from './explain-text.js';

/** From the accepted tips to mean, geodetic, geoid, grid and factors. */
export function explainPosition(reduced: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const { working } = reduced;
  const { position, mean } = working;
  if (position === null || mean === null) return [];
  return [
    ...(working.average === null ? [] : [averageStep(reduced, geocentricText(mean))]),
    ...(working.tests === null ? [] : [testStep(working.tests)]),
    ...explainFrame(reduced, setup),
    geodeticStep(working.national?.national ?? mean, position),
    ...geoidStep(position, setup),
    ...gridStep(position, setup),
    ...factorStep(position, working.gaussRadiusM),
    ...baselineStep(reduced),
  ];
}

type Position = NonNullable<ReducedOccupation['working']['position']>;

function geodeticStep(mean: GeocentricPoint, { geodetic }: Position): WorkingStep {
  return {
    title: 'Geocentric mean to latitude, longitude and ellipsoidal height',
    formula: 'the inverse of the first step, by iteration to the last digit',
    substitution: [geocentricText(mean)],
    result: [
      `φ ${degrees(geodetic.latitudeDeg)}, λ ${degrees(geodetic.longitudeDeg)}, h ${metres(geodetic.ellipsoidalHeightM)}`,
    ],
    source: 'IOGP-373-7-2, method 9602',
  };
}

function geoidStep(
  { geodetic, geoidHeightM, orthometricHeightM }: Position,
  { geoid }: ReductionSetup,
): readonly WorkingStep[] {
  if (geoid === null || geoidHeightM === null || orthometricHeightM === null) return [];
  return [
    {
      title: `Orthometric height through the geoid ${geoid.grid.name}`,
      formula: 'H = h − N',
      substitution: [
        `h ${metres(geodetic.ellipsoidalHeightM)}, N ${metres(geoidHeightM)} (${geoid.interpolation} between the grid's nodes)`,
      ],
      result: [`H ${metres(orthometricHeightM)}`],
      source: 'docs/methods/geoid.md',
    },
  ];
}

function gridStep(position: Position, { grid }: ReductionSetup): readonly WorkingStep[] {
  const { geodetic, gridFirst, gridSecond } = position;
  if (grid === null || gridFirst === null || gridSecond === null) return [];
  const [first, second] = grid.axes;
  return [
    {
      title: `Grid coordinates in ${grid.name}`,
      formula: `${grid.projection.method}; parameters ${grid.projection.parameters.map((p) => `${p.name} ${p.value}${p.unit === '' ? '' : ` ${p.unit}`}`).join(', ')}`,
      substitution: [`φ ${degrees(geodetic.latitudeDeg)}, λ ${degrees(geodetic.longitudeDeg)}`],
      result: [
        `${first.columnName} ${formatFixed(gridFirst, 4)}, ${second.columnName} ${formatFixed(gridSecond, 4)}`,
        // Without a grid, north is true.
        `point scale factor k ${position.pointScaleFactor === null ? 'differs with direction' : formatFixed(position.pointScaleFactor, 9)}, convergence γ ${formatFixed(position.convergenceDeg ?? 0, 6)}° (grid bearing = azimuth − γ)`,
      ],
      source: 'docs/methods/grid-factors.md',
    },
  ];
}

function factorStep(
  { geodetic, elevationFactor, combinedFactor }: Position,
  gaussRadiusM: number | null,
): readonly WorkingStep[] {
  if (elevationFactor === null || gaussRadiusM === null) return [];
  return [
    {
      title: 'Elevation and combined factor',
      formula: 'EF = R / (R + h), R = √(M ν);  CF = k × EF;  ground distance = grid distance / CF',
      substitution: [`R ${formatFixed(gaussRadiusM, 3)} m, h ${metres(geodetic.ellipsoidalHeightM)}`],
      result: [
        `EF ${formatFixed(elevationFactor, 9)}${combinedFactor === null ? '' : `, CF ${formatFixed(combinedFactor, 9)}`}`,
      ],
      source: 'docs/methods/line-quantities.md',
    },
  ];
}

function baselineStep({ point, working }: ReducedOccupation): readonly WorkingStep[] {
  const { baseline } = point;
  const { base } = working;
  if (baseline === null || base === null) return [];
  const from = base.origin;
  return [
    {
      title: `Baseline from base ${base.settings.id} (${from.at === 'mark' ? 'its mark' : 'its antenna reference point'})`,
      formula: 'geodesic on the ellipsoid (inverse problem); height difference = h(point) − h(base)',
      substitution: [
        `base φ ${degrees(from.geodetic.latitudeDeg)}, λ ${degrees(from.geodetic.longitudeDeg)}, h ${metres(from.geodetic.ellipsoidalHeightM)}`,
      ],
      result: [
        `distance ${metres(baseline.distanceM)}, azimuth ${baseline.azimuthDeg === null ? 'none, the points coincide' : `${formatFixed(baseline.azimuthDeg, 6)}°`}, height difference ${metres(baseline.heightDifferenceM)}`,
      ],
      source: 'KARNEY-2013',
    },
  ];
}

function averageStep({ point, working }: ReducedOccupation, result: string): WorkingStep {
  const { average, expected } = working;
  if (average === null || expected === null) throw new InternalError('no average to explain');
  const count = average.outlier.length;
  const limit = (madM: number, axis: 'horizontal' | 'vertical'): string =>
    millimetres(screenLimitM(count, madM, expected[axis]));
  return {
    title: 'Robust mean of the accepted tips, in metres about the first',
    formula:
      'screen |x − median| > √(1 + π/2n) min(√((z σ)² + (t b MAD)²), z σ_a), MAD = 1.4826 median|x − median|; then Huber mean, c = 1.345',
    substitution: [
      `median east ${metres(average.medianEastM)}, north ${metres(average.medianNorthM)}, up ${metres(average.medianUpM)}`,
      `MAD east ${millimetres(average.madEastM)}, north ${millimetres(average.madNorthM)}, up ${millimetres(average.madUpM)}`,
      `limits east ${limit(average.madEastM, 'horizontal')}, north ${limit(average.madNorthM, 'horizontal')}, up ${limit(average.madUpM, 'vertical')}, from σ ${millimetres(expected.horizontal.withinM)} in plan and ${millimetres(expected.vertical.withinM)} in height, σ_a ${millimetres(expected.horizontal.mostM)} and ${millimetres(expected.vertical.mostM)}`,
      `${average.outlierCount} screened out, ${point.epochsUsed} kept`,
    ],
    result: [`mean east ${metres(average.eastM)}, north ${metres(average.northM)}, up ${metres(average.upM)}`, result],
    source: 'CROUX-1992; HUBER-1964; docs/methods/averaging.md',
  };
}

function testStep(tests: NonNullable<ReducedOccupation['working']['tests']>): WorkingStep {
  const axis = (name: string, test: (typeof tests)['east']): string =>
    `${name}: drift ${millimetres(test.driftM)} (one sigma ${millimetres(test.driftSigmaM)})${test.isDrift ? ', significant' : ''}; step ${millimetres(test.stepM)} (one sigma ${millimetres(test.stepSigmaM)})${test.isStep ? ', significant' : ''}`;
  return {
    title: 'Did the antenna stand still, and had the solution settled?',
    formula:
      'drift = Theil–Sen slope × time; step = mean after − mean before; each against the scatter seen and the noise the model expects, by Student’s distribution',
    substitution: [axis('east', tests.east), axis('north', tests.north), axis('up', tests.up)],
    result: [
      tests.motion.isMoving
        ? `moved: ${metres(tests.motion.displacementM)} between first and last third and ${metres(tests.motion.riseM)} in height`
        : `stood still: ${millimetres(tests.motion.displacementM)} between first and last third and ${millimetres(tests.motion.riseM)} in height, spread ${millimetres(tests.motion.spreadM)} and ${millimetres(tests.motion.spreadUpM)}`,
    ],
    source: 'SEN-1968; docs/methods/averaging.md',
  };
}
