import { entryAt } from '../../records/present.js';

/** A place of the skyline: degrees clockwise from true north, and above the horizon. */
export interface SkylinePoint {
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
}

/** The skyline of a site in the order of azimuth, 0 to below 360. Places of one azimuth keep the order they were given in: a wall's edge. */
export type Skyline = readonly SkylinePoint[];

/** Puts the places of a skyline in their order. Given: azimuths, degrees, −360 to 360. */
export function skylineOf(points: readonly SkylinePoint[]): Skyline {
  return points
    .map((point, index) => ({ ...point, azimuthDeg: wrapped(point.azimuthDeg), index }))
    .sort((a, b) => a.azimuthDeg - b.azimuthDeg || a.index - b.index)
    .map(({ azimuthDeg, elevationDeg }) => ({ azimuthDeg, elevationDeg }));
}

function wrapped(azimuthDeg: number): number {
  const turned = azimuthDeg % 360;
  return turned < 0 ? turned + 360 : turned;
}

/**
 * How high the skyline stands in a direction.
 *
 * Given: skyline; azimuth, degrees, 0 to 360. Returned: degrees above the horizon, linear between the places on both sides, across north too; the
 * higher one of two places at that very azimuth; −90 without a skyline.
 */
export function skylineAt(skyline: Skyline, azimuthDeg: number): number {
  const count = skyline.length;
  if (count === 0) return -90;
  const turned = azimuthDeg >= 360 ? azimuthDeg - 360 : azimuthDeg;
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entryAt(skyline, middle).azimuthDeg < turned) low = middle + 1;
    else high = middle;
  }
  let highest = -90;
  for (let at = low; at < count && entryAt(skyline, at).azimuthDeg === turned; at += 1)
    highest = Math.max(highest, entryAt(skyline, at).elevationDeg);
  if (highest > -90) return highest;
  const before = entryAt(skyline, low === 0 ? count - 1 : low - 1);
  const after = entryAt(skyline, low === count ? 0 : low);
  const wideDeg = spanTo(before.azimuthDeg, after.azimuthDeg);
  const share = wideDeg === 0 ? 0 : spanTo(before.azimuthDeg, turned) / wideDeg;
  return before.elevationDeg + share * (after.elevationDeg - before.elevationDeg);
}

/** Clockwise from one azimuth to another, degrees. */
function spanTo(fromDeg: number, toDeg: number): number {
  return toDeg >= fromDeg ? toDeg - fromDeg : toDeg + 360 - fromDeg;
}
