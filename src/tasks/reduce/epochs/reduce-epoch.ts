import { geocentricInFrame } from '../../../core/ellipsoid/geocentric.js';
import { localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import { translate } from '../../../core/observation/base-correction.js';
import { reducePole } from '../../../core/observation/pole-reduction.js';
import type { PoleGeometry } from '../../../core/observation/pole-reduction.js';
import type { Fix } from '../../../records/points/fix.js';
import { InternalError } from '../../../records/internal-error.js';
import { poleReachM, referencePointOf } from '../../check/check-fix.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedEpoch } from '../reduction-working.js';

/**
 * Carries one checked fix (`checkFix` found nothing) from the antenna to the pole tip, then moves
 * it by the base correction. The order is that of the reduction chain: antenna, pole, base.
 */
export function reduceEpoch(fix: Fix, base: PreparedBase | null, setup: ReductionSetup): ReducedEpoch {
  const { rover } = setup;
  const { ellipsoid } = setup.fixesSystem;
  const place = referencePointOf(fix, rover);
  if (place === null) throw new InternalError('an unchecked fix reached the reduction');
  const { geodetic } = fix;
  const frame = localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg);
  const top = fix.geocentric ?? geocentricInFrame(frame, geodetic.ellipsoidalHeightM, ellipsoid);
  let tip = top;
  let pole: PoleGeometry | null = null;
  let reduction: ReducedEpoch['reduction'] = null;
  if (place !== 'tip') {
    pole = {
      // A fix whose pole is not known was refused when it was read.
      lengthM: poleReachM(fix, rover, place) ?? 0,
      tiltDeg: fix.tiltDeg,
      tiltAzimuthDeg: fix.tiltAzimuthDeg,
      convention: rover.tiltAzimuth,
    };
    reduction = reducePole(top, frame, pole);
    tip = reduction.tip;
  }
  const correction = base?.correction ?? null;
  if (correction !== null) tip = translate(tip, correction.translation);
  return { geodetic, top, place, pole, reduction, tip };
}
