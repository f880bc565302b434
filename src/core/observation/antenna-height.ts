import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { BaseSettings } from '../../records/session.js';

/** Height of the antenna reference point above the mark, with what it was made from. */
export interface AntennaHeight {
  /** Mark to antenna reference point along the ellipsoid normal, metres. */
  readonly verticalM: number;
  readonly kind: 'vertical' | 'slant';
  /** The slant measurement; null where the height was measured vertically. */
  readonly slant: { readonly slantM: number; readonly radiusM: number; readonly offsetM: number } | null;
}

function invalid(message: string, received: number, hint: string): Outcome<AntennaHeight> {
  return failure(errorProblem('config-invalid-value', { message, received: String(received), hint }));
}

/**
 * Height of a base antenna's reference point above its mark.
 *
 * Vertical: as measured. Slant, from the mark to the rim of a plate of radius r that lies v above the
 * reference point: h = √(s² − r²) − v.
 *
 * Given: the session's antenna height, metres; null: not stated.
 * Returned: metres up. Problems: config-missing where it is not stated; config-invalid-value where a
 * number is not finite, the radius is negative, the slant is not longer than the radius, or the
 * reference point would lie below the mark.
 *
 * Reference: Pythagoras; a slant entered as vertical is wrong by tens of millimetres (common
 * practice, no published source).
 */
export function antennaHeight(height: BaseSettings['antennaHeight']): Outcome<AntennaHeight> {
  if (height === null) {
    return failure(
      errorProblem('config-missing', {
        message: 'a base coordinate is at the mark and the antenna height is not given',
        hint: 'set antenna_height_m and antenna_height_kind of the base',
      }),
    );
  }
  if (height.kind === 'vertical') {
    if (!Number.isFinite(height.heightM)) {
      return invalid(`antenna height ${String(height.heightM)} m is not a number`, height.heightM, 'give metres');
    }
    return success({ verticalM: height.heightM, kind: 'vertical', slant: null });
  }
  const { slantM, radiusM, offsetM } = height;
  if (!Number.isFinite(slantM) || !Number.isFinite(radiusM) || !Number.isFinite(offsetM) || radiusM < 0) {
    return invalid(
      `slant ${String(slantM)} m, radius ${String(radiusM)} m, offset ${String(offsetM)} m: a number is unusable`,
      slantM,
      'give metres, and a radius of 0 or more',
    );
  }
  if (slantM <= radiusM) {
    return invalid(
      `slant height ${String(slantM)} m is not longer than the antenna radius ${String(radiusM)} m`,
      slantM,
      'check antenna_height_m and antenna_radius_m, and that both are metres',
    );
  }
  const verticalM = Math.sqrt((slantM - radiusM) * (slantM + radiusM)) - offsetM;
  if (verticalM < 0) {
    return invalid(
      `slant height ${String(slantM)} m puts the antenna reference point below the mark`,
      slantM,
      'check antenna_offset_m: it is the height of the measured rim above the reference point',
    );
  }
  return success({ verticalM, kind: 'slant', slant: { slantM, radiusM, offsetM } });
}
