import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { geoidIdentityWords } from '../../../core/geoid/geoid-test-value.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { WorkingStep } from '../../../records/working-step.js';
import type { ReductionSetup } from '../../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../../reduce/reduction-working.js';
import { averageStep } from '../explain-average.js';
import { explainFrame } from './explain-frame.js';
import { ellipsoidLines, geodeticStep } from './explain-geodetic.js';
import { testStep } from '../explain-stand.js';
import { geodesicLines } from '../lines/geodesic-lines.js';
import { geoidLines } from '../lines/geoid-lines.js';
import { degrees, geocentricText, metres } from '../explain-text.js';
import { placeLine } from '../projection/grid-lines.js';
import { explainProjection } from '../projection/projection-lines.js';
import {
  FACTOR,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  given,
  together,
  withDecimals,
  worked,
} from '../lines/worked-lines.js';

/** From the accepted tips to mean, geodetic, geoid, grid and factors. */
export function explainPosition(reduced: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const { working } = reduced;
  const { position, mean } = working;
  if (position === null || mean === null) return [];
  return [
    ...(working.average === null ? [singleStep(mean)] : [averageStep(reduced)]),
    ...(working.tests === null ? [] : [testStep(reduced)]),
    ...explainFrame(reduced, setup),
    geodeticStep(
      'Geocentric mean to latitude, longitude and ellipsoidal height',
      working.national?.national ?? mean,
      position.geodetic,
      setup.ellipsoid,
    ),
    ...geoidStep(position, setup),
    ...gridStep(position, setup),
    ...factorStep(position, working.gaussRadiusM, setup.ellipsoid),
    ...baselineStep(reduced, setup.ellipsoid),
  ];
}

type Position = NonNullable<ReducedOccupation['working']['position']>;

function geoidStep(
  { geodetic, geoidHeightM, orthometricHeightM }: Position,
  { geoid }: ReductionSetup,
): readonly WorkingStep[] {
  if (geoid === null || geoidHeightM === null || orthometricHeightM === null) return [];
  return [
    {
      title: `Orthometric height through the geoid ${geoid.grid.name} (${geoidIdentityWords(geoid.grid)})`,
      formula: 'H = h − N',
      substitution: [
        placeLine(geodetic.latitudeDeg, geodetic.longitudeDeg),
        ...geoidLines(geoid, geodetic.latitudeDeg, geodetic.longitudeDeg, geoidHeightM),
        together(given('h', geodetic.ellipsoidalHeightM, INPUT), worked('H', 'h − N', orthometricHeightM, METRES)),
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
  const { formula, substitution, source, isPrinted } = explainProjection(grid, geodetic, [gridFirst, gridSecond]);
  return [
    {
      title: `Grid coordinates in ${grid.name}`,
      formula,
      substitution: isPrinted
        ? substitution
        : [`φ ${degrees(geodetic.latitudeDeg)}, λ ${degrees(geodetic.longitudeDeg)}`, ...substitution],
      result: [
        `${first.columnName} ${formatFixed(gridFirst, 4)}, ${second.columnName} ${formatFixed(gridSecond, 4)}`,
        // Without a grid, north is true.
        `point scale factor k ${position.pointScaleFactor === null ? 'differs with direction' : formatFixed(position.pointScaleFactor, 9)}, convergence γ ${formatFixed(position.convergenceDeg ?? 0, 6)}° (grid bearing = azimuth − γ)`,
      ],
      source,
    },
  ];
}

function factorStep(
  { geodetic, elevationFactor, combinedFactor, pointScaleFactor }: Position,
  gaussRadiusM: number | null,
  ellipsoid: Ellipsoid,
): readonly WorkingStep[] {
  if (elevationFactor === null || gaussRadiusM === null) return [];
  return [
    {
      title: 'Elevation and combined factor',
      formula: 'EF = R / (R + h), R = √(M ν);  CF = k × EF;  ground distance = grid distance / CF',
      substitution: [
        together(given('φ', geodetic.latitudeDeg, INPUT_ANGLE), given('h', geodetic.ellipsoidalHeightM, INPUT)),
        ...ellipsoidLines(ellipsoid),
        worked(
          'R',
          ellipsoid.flattening === 0 ? 'a' : 'a·√(1 − e²) / (1 − e²·sin²φ)',
          gaussRadiusM,
          withDecimals(LENGTH, 3),
        ),
        worked('EF', 'R / (R + h)', elevationFactor, FACTOR),
        ...(combinedFactor === null || pointScaleFactor === null
          ? []
          : [
              together(
                given('k', pointScaleFactor, withDecimals(FACTOR, 12)),
                worked('CF', 'k·EF', combinedFactor, FACTOR),
              ),
            ]),
      ],
      result: [
        `EF ${formatFixed(elevationFactor, 9)}${combinedFactor === null ? '' : `, CF ${formatFixed(combinedFactor, 9)}`}`,
      ],
      source: 'docs/methods/line-quantities.md',
    },
  ];
}

function baselineStep({ point, working }: ReducedOccupation, ellipsoid: Ellipsoid): readonly WorkingStep[] {
  const { baseline } = point;
  const { base } = working;
  if (baseline === null || base === null) return [];
  const from = base.origin;
  return [
    {
      title: `Baseline from base ${base.settings.id} (${from.at === 'mark' ? 'its mark' : 'its antenna reference point'})`,
      formula: 'geodesic on the ellipsoid (inverse problem); height difference = h(point) − h(base)',
      substitution: [
        `base: ${together(
          given('φ_b', from.geodetic.latitudeDeg, INPUT_ANGLE),
          given('λ_b', from.geodetic.longitudeDeg, INPUT_ANGLE),
          given('h_b', from.geodetic.ellipsoidalHeightM, INPUT),
        )}`,
        ...pointLines(working.position),
        ...(working.position === null
          ? []
          : geodesicLines(ellipsoid, from.geodetic, working.position.geodetic, baseline.distanceM, {
              from: '_b',
              to: '',
            })),
        worked('Δh', 'h − h_b', baseline.heightDifferenceM, METRES),
      ],
      result: [
        `distance ${metres(baseline.distanceM)}, azimuth ${baseline.azimuthDeg === null ? 'none, the points coincide' : `${formatFixed(baseline.azimuthDeg, 6)}°`}, height difference ${metres(baseline.heightDifferenceM)}`,
      ],
      source: 'KARNEY-2013; VINCENTY-1975',
    },
  ];
}

function pointLines(position: Position | null): readonly string[] {
  if (position === null) return [];
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = position.geodetic;
  return [
    `point: ${together(given('φ', latitudeDeg, INPUT_ANGLE), given('λ', longitudeDeg, INPUT_ANGLE), given('h', ellipsoidalHeightM, INPUT))}`,
  ];
}

/** A row by itself: nothing is averaged, and nothing could be tested. */
function singleStep(mean: GeocentricPoint): WorkingStep {
  return {
    title: 'One accepted row',
    formula: 'its tip is the position of the occupation',
    substitution: ['not screened, and not tested for movement, drift or step: there is nothing to compare it with'],
    result: [geocentricText(mean)],
    source: 'docs/methods/averaging.md',
  };
}
