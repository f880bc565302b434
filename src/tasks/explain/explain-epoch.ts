import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedEpoch, ReducedOccupation } from '../reduce/reduction-working.js';
import { degrees, geocentricText, metres, millimetres, sigmas } from './explain-text.js';

/** From the fix to the corrected pole tip, followed on the first accepted epoch. */
export function explainEpoch({ point, working }: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const epoch = working.reduced.at(working.example);
  const fix = working.epochs.at(working.example)?.fix;
  if (epoch === undefined || fix === undefined) return [];
  const time = fix.epochMs === null ? 'the fix' : `the epoch ${formatUtc(fix.epochMs)}`;
  const base = baseStep(working, epoch);
  return [
    positionStep(epoch, time, setup),
    ...(epoch.pole === null || epoch.reduction === null
      ? []
      : [poleStep(epoch.pole, epoch.reduction, epoch.place, setup)]),
    ...(base === null ? [] : [base]),
    acceptanceStep({ point, working }, setup),
  ];
}

const PLACES = { apc: 'antenna phase centre', arp: 'antenna reference point', tip: 'pole tip' } as const;

function positionStep(epoch: ReducedEpoch, time: string, { fixesSystem }: ReductionSetup): WorkingStep {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = epoch.geodetic;
  const { ellipsoid, name } = fixesSystem;
  return {
    title: `Position of ${time}, of the ${PLACES[epoch.place]}, to geocentric axes`,
    formula:
      'X = (ν + h) cos φ cos λ,  Y = (ν + h) cos φ sin λ,  Z = (ν (1 − e²) + h) sin φ,  ν = a / √(1 − e² sin² φ)',
    substitution: [
      `φ ${degrees(latitudeDeg)}, λ ${degrees(longitudeDeg)}, h ${metres(ellipsoidalHeightM)} in ${name}`,
      `a ${formatFixed(ellipsoid.semiMajorAxisM, 3)} m, e² ${formatFixed(ellipsoid.eccentricitySquared, 12)}`,
    ],
    result: [geocentricText(epoch.top)],
    source: 'IOGP-373-7-2, method 9602',
  };
}

function poleStep(
  pole: NonNullable<ReducedEpoch['pole']>,
  reduction: NonNullable<ReducedEpoch['reduction']>,
  place: ReducedEpoch['place'],
  setup: ReductionSetup,
): WorkingStep {
  const leaning = pole.tiltDeg !== null && pole.tiltDeg !== 0;
  return {
    title: 'Down the pole to its tip',
    formula: leaning
      ? 'tip = top − L (sin θ sin α, sin θ cos α, cos θ) in east, north, up, turned to geocentric axes; α the azimuth of the top seen from the tip'
      : 'tip = top − L along the ellipsoid normal (pole held plumb)',
    substitution: [
      // An offset that is needed and missing was refused before the first row.
      `L ${metres(pole.lengthM)}${place === 'apc' ? ` = pole ${metres(pole.lengthM - (setup.rover.phaseCentreOffsetM ?? 0))} + phase-centre offset ${metres(setup.rover.phaseCentreOffsetM ?? 0)}` : ''}`,
      ...(leaning
        ? [
            // Said of a measured tilt only; one without its azimuth was refused with its row.
            `θ ${formatFixed(pole.tiltDeg ?? 0, 2)}°, azimuth ${formatFixed(pole.tiltAzimuthDeg ?? 0, 2)}° (${pole.convention ?? ''})`,
          ]
        : []),
    ],
    result: [
      `lever arm east ${metres(reduction.leverEastM)}, north ${metres(reduction.leverNorthM)}, up ${metres(reduction.leverUpM)}`,
      geocentricText(reduction.tip),
    ],
    source: 'docs/methods/pole-reduction.md',
  };
}

/** Null where the coordinate that was broadcast is the right one. */
function baseStep(working: ReducedOccupation['working'], epoch: ReducedEpoch): WorkingStep | null {
  const { base } = working;
  const correction = base?.correction ?? null;
  if (base === null || correction === null) return null;
  const { translation, magnitudeM, local } = correction;
  return {
    title: `Put the coordinate of base ${base.settings.id} right`,
    formula: 'X′ = X + Δ,  Δ = X_ARP(known) − X_ARP(broadcast): one geocentric vector for every point of the base',
    substitution: [
      `known     ${geocentricText(base.arp)}`,
      `broadcast ${geocentricText(base.broadcastArp)}`,
      ...(base.antenna === null
        ? []
        : [`antenna ${metres(base.antenna.verticalM)} above the mark (${base.antenna.kind})`]),
    ],
    result: [
      `Δ ${geocentricText(translation)}; length ${metres(magnitudeM)} (at the base: east ${metres(local.eastM)}, north ${metres(local.northM)}, up ${metres(local.upM)})`,
      ...(working.shortcutErrorM === null
        ? []
        : [
            `adding the differences in the grid or in degrees instead would have cost up to ${millimetres(working.shortcutErrorM)} here`,
          ]),
      ...(working.uncertainty === null
        ? []
        : [
            `the wrong coordinate also bent the vector itself: ${sigmas(working.uncertainty.bend)}, one sigma, which nothing removes afterwards`,
          ]),
      geocentricText(epoch.tip),
    ],
    source: 'docs/methods/base-correction.md',
  };
}

function acceptanceStep({ point, working }: ReducedOccupation, setup: ReductionSetup): WorkingStep {
  const counts = new Map<string, number>();
  for (const epoch of working.epochs) for (const code of epoch.refusals) counts.set(code, (counts.get(code) ?? 0) + 1);
  const limits = setup.acceptance;
  const words = [
    `solution ${limits.solution.join(' or ')}`,
    ...(limits.maxPdop === null ? [] : [`PDOP ≤ ${limits.maxPdop}`]),
    ...(limits.maxCorrectionAgeS === null ? [] : [`correction age ≤ ${limits.maxCorrectionAgeS} s`]),
    ...(limits.minSatellites === null ? [] : [`satellites ≥ ${limits.minSatellites}`]),
    ...(limits.maxTiltDeg === null ? [] : [`tilt ≤ ${limits.maxTiltDeg}°`]),
    ...(limits.maxBaselineM === null ? [] : [`baseline ≤ ${limits.maxBaselineM} m`]),
    ...(limits.maxSigmaHorizontalM === null ? [] : [`reported sigma in plan ≤ ${limits.maxSigmaHorizontalM} m`]),
    ...(limits.maxSigmaVerticalM === null ? [] : [`reported sigma in height ≤ ${limits.maxSigmaVerticalM} m`]),
  ];
  const whole = [
    ...(limits.minEpochs === null ? [] : [`at least ${limits.minEpochs} accepted epochs`]),
    ...(limits.minDurationS === null ? [] : [`at least ${limits.minDurationS} s from the first to the last of them`]),
  ];
  return {
    title: 'Accept or refuse each epoch',
    formula: 'an epoch is accepted when it meets every limit that is set',
    substitution: [
      words.join(', '),
      ...(whole.length === 0 ? [] : [`of the occupation: ${whole.join(', ')}`]),
      `${working.epochs.length} rows in the occupation`,
    ],
    result: [
      `${point.epochsUsed} used, ${point.epochsRejected} refused`,
      ...[...counts].map(([code, count]) => `${count} × ${code}`),
    ],
    source: 'limits of the session; docs/methods/acceptance.md',
  };
}
