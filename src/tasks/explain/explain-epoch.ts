import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedEpoch, ReducedOccupation } from '../reduce/reduction-working.js';
import { baseStep } from './explain-base.js';
import { geocentricStep } from './position/explain-geodetic.js';
import { geocentricText } from './explain-text.js';
import { present } from '../../records/present.js';
import {
  ANGLE,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  stated,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';

/** From the fix to the corrected pole tip, followed on the first accepted epoch. */
export function explainEpoch({ point, working }: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const epoch = working.reduced.at(working.example);
  const fix = working.epochs.at(working.example)?.fix;
  if (epoch === undefined || fix === undefined) return [];
  const time = fix.epochMs === null ? 'the fix' : `the epoch ${formatUtc(fix.epochMs)}`;
  const base = baseStep({ point, working }, epoch);
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
  return geocentricStep(
    `Position of ${time}, of the ${PLACES[epoch.place]}, in ${fixesSystem.name}, to geocentric axes`,
    epoch.geodetic,
    epoch.top,
    fixesSystem.ellipsoid,
  );
}

function poleStep(
  pole: NonNullable<ReducedEpoch['pole']>,
  reduction: NonNullable<ReducedEpoch['reduction']>,
  place: ReducedEpoch['place'],
  setup: ReductionSetup,
): WorkingStep {
  const leaning = pole.tiltDeg !== null && pole.tiltDeg !== 0;
  // Used of a measured tilt alone; one without its azimuth was refused with its row.
  const leanDeg = pole.tiltAzimuthDeg ?? 0;
  // An offset that is needed and missing was refused before the first row.
  const offsetM = place === 'apc' ? (setup.rover.phaseCentreOffsetM ?? 0) : 0;
  return {
    title: 'Down the pole to its tip',
    formula: leaning
      ? 'tip = top − L (sin θ sin α, sin θ cos α, cos θ) in east, north, up, turned to geocentric axes; α the azimuth of the top seen from the tip'
      : 'tip = top − L along the ellipsoid normal (pole held plumb)',
    substitution: [
      place === 'apc'
        ? together(
            stated('pole', pole.lengthM - offsetM, INPUT, 4),
            `${stated('offset', offsetM, INPUT, 4)} (phase centre above the reference point)`,
          )
        : stated('pole', pole.lengthM, INPUT, 4),
      worked('L', place === 'apc' ? 'pole + offset' : 'pole', pole.lengthM, METRES),
      ...(leaning
        ? [
            together(
              stated('θ', present(pole.tiltDeg, 'a measured tilt'), INPUT_ANGLE, 2),
              `${stated('lean', leanDeg, INPUT_ANGLE, 2)} (${present(pole.convention, 'the sense of a lean')})`,
            ),
            pole.convention === 'tip-from-top'
              ? worked('α', 'lean + 180°', leanDeg + 180, withDecimals(ANGLE, 4))
              : worked('α', 'lean', leanDeg, withDecimals(ANGLE, 4)),
          ]
        : []),
      together(
        worked('lever_E', leaning ? '−L·sin θ·sin α' : '0·L', reduction.leverEastM, METRES),
        worked('lever_N', leaning ? '−L·sin θ·cos α' : '0·L', reduction.leverNorthM, METRES),
        worked('lever_U', leaning ? '−L·cos θ' : '−L', reduction.leverUpM, METRES),
      ),
      worked('X', 'X − sin λ·lever_E − sin φ·cos λ·lever_N + cos φ·cos λ·lever_U', reduction.tip.xM, LENGTH),
      worked('Y', 'Y + cos λ·lever_E − sin φ·sin λ·lever_N + cos φ·sin λ·lever_U', reduction.tip.yM, LENGTH),
      worked('Z', 'Z + cos φ·lever_N + sin φ·lever_U', reduction.tip.zM, LENGTH),
    ],
    result: [geocentricText(reduction.tip)],
    source: 'docs/methods/pole-reduction.md',
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
      `${String(working.epochs.length)} ${working.epochs.length === 1 ? 'row' : 'rows'} in the occupation`,
    ],
    result: [
      `${point.epochsUsed} used, ${point.epochsRejected} refused`,
      ...[...counts].map(([code, count]) => `${count} × ${code}`),
    ],
    source: 'limits of the session; docs/methods/acceptance.md',
  };
}
