import { emptyGeocentric, geocentricInFrame } from '../../../core/ellipsoid/geocentric.js';
import { emptyFrame, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import { isInsideArea } from '../../../core/grid/systems/area-of-use.js';
import { translate } from '../../../core/observation/base-correction.js';
import { plumbTip } from '../../../core/observation/pole-reduction.js';
import { refusals } from '../../../core/observation/stand-tests/acceptance.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { createPositioner } from '../../join/position-point.js';
import type { PositionedPoint } from '../../join/position-point.js';
import type { ReductionSetup } from '../reduction-setup.js';

/**
 * The tip of the plumb pole of one fix in every form; null where the fix, the time it was stood or its place is for the general
 * way to judge. Given: the fix; its base; metres from its position down to the tip, null: it is of the tip. It gives the same records each time.
 */
export type SinglePosition = (fix: Fix, base: PreparedBase | null, reachM: number | null) => PositionedPoint | null;

/** Positions of single fixes. */
export function createSinglePosition(setup: ReductionSetup): SinglePosition {
  const positioner = createPositioner(setup, false);
  const { ellipsoid } = setup.fixesSystem;
  const frame = emptyFrame();
  const top = emptyGeocentric();
  const plumb = emptyGeocentric();
  const moved = emptyGeocentric();

  function tipOf({ geodetic, geocentric }: Fix, base: PreparedBase | null, reachM: number | null): GeocentricPoint {
    localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg, frame);
    const at = geocentric ?? geocentricInFrame(frame, geodetic.ellipsoidalHeightM, ellipsoid, top);
    const tip = reachM === null ? at : plumbTip(at, frame, reachM, plumb);
    const correction = base?.correction ?? null;
    return correction === null ? tip : translate(tip, correction.translation, moved);
  }

  return (fix, base, reachM) => {
    if (isForGeneralWay(fix, base, setup)) return null;
    const positioned = positioner(tipOf(fix, base, reachM));
    return positioned.position === null || positioned.outsideArea ? null : positioned;
  };
}

function isForGeneralWay(fix: Fix, base: PreparedBase | null, { acceptance, grid, geodesic }: ReductionSetup): boolean {
  const { latitudeDeg, longitudeDeg } = fix.geodetic;
  const area = grid?.areaOfUse ?? null;
  if (area !== null && !isInsideArea(area, latitudeDeg, longitudeDeg)) return true;
  let limitM: number | null = null;
  if (acceptance.maxBaselineM !== null && base !== null) {
    const from = base.origin.geodetic;
    limitM = geodesic.distanceM(from.latitudeDeg, from.longitudeDeg, latitudeDeg, longitudeDeg);
  }
  if (refusals(fix, acceptance, limitM).length > 0) return true;
  const { minEpochs, minDurationS } = acceptance;
  return (minEpochs !== null && fix.epochCount < minEpochs) || (minDurationS !== null && minDurationS > 0);
}
