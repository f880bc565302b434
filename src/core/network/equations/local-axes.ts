import type { GeocentricPoint } from '../../../records/points/point.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import { entryAt } from '../../../records/present.js';
import { northOf, upOf } from './control-rows.js';

/** East, north and up of a frame, geocentric. */
function axesOf(frame: LocalFrame): readonly (readonly number[])[] {
  return [[-frame.sinLon, frame.cosLon, 0], northOf(frame), upOf(frame)];
}

/** The map that takes a geocentric vector apart into east, north and up, multiplies each and puts it together again. */
export function stretched(frame: LocalFrame, factors: readonly [number, number, number]): readonly number[] {
  const axes = axesOf(frame);
  return Array.from({ length: 9 }, (_, at) =>
    axes.reduce(
      (sum, axis, k) => sum + entryAt(factors, k) * entryAt(axis, Math.floor(at / 3)) * entryAt(axis, at % 3),
      0,
    ),
  );
}

interface Raised {
  readonly position: GeocentricPoint;
  readonly frame: LocalFrame;
}

/** The place so far above a station. */
export function raised({ position, frame }: Raised, upM: number): GeocentricPoint {
  const up = upOf(frame);
  return { xM: position.xM + upM * up[0]!, yM: position.yM + upM * up[1]!, zM: position.zM + upM * up[2]! };
}

/** a less b. */
export function minus(a: GeocentricPoint, b: GeocentricPoint): GeocentricPoint {
  return { xM: a.xM - b.xM, yM: a.yM - b.yM, zM: a.zM - b.zM };
}
