import { DEGREES_PER_RADIAN } from '../../core/numeric/angle-units.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReducedEpoch, ReducedOccupation } from '../reduce/reduction-working.js';
import { geocentricText, metres, sigmas } from './explain-text.js';
import { AXES, componentOf } from './lines/shift-lines.js';
import {
  ANGLE,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  MILLIMETRES,
  given,
  stated,
  inOne,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';

/** Null where the coordinate that was broadcast is the right one. */
export function baseStep({ point, working }: ReducedOccupation, epoch: ReducedEpoch): WorkingStep | null {
  const { base } = working;
  const correction = base?.correction ?? null;
  if (base === null || correction === null) return null;
  const { translation, magnitudeM, local } = correction;
  const { sinLat, cosLat, sinLon, cosLon } = base.frame;
  return {
    title: `Put the coordinate of base ${base.settings.id} right`,
    formula: 'X′ = X + Δ,  Δ = X_ARP(known) − X_ARP(broadcast): one geocentric vector for every point of the base',
    substitution: [
      ...(base.antenna === null
        ? []
        : [`antenna ${metres(base.antenna.verticalM)} above the mark (${base.antenna.kind})`]),
      `known: ${inOne(AXES.map((axis) => given(`${axis}_k`, componentOf(base.arp, axis), INPUT)))}`,
      `broadcast: ${inOne(AXES.map((axis) => given(`${axis}_b`, componentOf(base.broadcastArp, axis), INPUT)))}`,
      inOne(AXES.map((axis) => worked(`Δ${axis}`, `${axis}_k − ${axis}_b`, componentOf(translation, axis), METRES))),
      worked('Δ', '√(ΔX² + ΔY² + ΔZ²)', magnitudeM, METRES),
      `at the base: ${together(
        stated('φ_b', Math.atan2(sinLat, cosLat) * DEGREES_PER_RADIAN, INPUT_ANGLE, 9),
        stated('λ_b', Math.atan2(sinLon, cosLon) * DEGREES_PER_RADIAN, INPUT_ANGLE, 9),
      )}`,
      worked('Δ_E', 'cos λ_b·ΔY − sin λ_b·ΔX', local.eastM, METRES),
      worked('Δ_N', 'cos φ_b·ΔZ − sin φ_b·(cos λ_b·ΔX + sin λ_b·ΔY)', local.northM, METRES),
      worked('Δ_U', 'cos φ_b·(cos λ_b·ΔX + sin λ_b·ΔY) + sin φ_b·ΔZ', local.upM, METRES),
      ...AXES.map((axis) => worked(axis, `${axis} + Δ${axis}`, componentOf(epoch.tip, axis), LENGTH)),
      ...shortcutLines({ point, working }),
    ],
    result: [
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

/** What adding the differences in the grid or in degrees instead would have cost. */
function shortcutLines({ point, working }: ReducedOccupation): readonly string[] {
  const { shortcutErrorM, gaussRadiusM, position } = working;
  if (shortcutErrorM === null || gaussRadiusM === null || position === null || point.baseline === null) return [];
  return [
    'added in the grid or in degrees instead, the same would have been wrong by up to',
    together(
      stated('d', point.baseline.distanceM, INPUT, 4),
      given('R', gaussRadiusM, withDecimals(LENGTH, 3)),
      given('φ_p', position.geodetic.latitudeDeg, withDecimals(ANGLE, 9)),
    ),
    worked('shortcut', 'min(2·Δ, Δ·d / (R·cos φ_p))', shortcutErrorM, MILLIMETRES),
  ];
}
