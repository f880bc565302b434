import type { SkylinePoint } from '../../core/sky/obstruction-mask.js';

/** A place of a skyline with the point it is of. */
interface MaskPlace extends SkylinePoint {
  readonly pointId: string;
}

/** Skylines by point, in the order of the rows. Given: rows; degrees that are added to every azimuth, the declination of a compass. */
export function skylinesByPoint(
  rows: readonly MaskPlace[],
  declinationDeg: number,
): ReadonlyMap<string, readonly SkylinePoint[]> {
  const byPoint = new Map<string, SkylinePoint[]>();
  for (const { pointId, azimuthDeg, elevationDeg } of rows) {
    const place = { azimuthDeg: azimuthDeg + declinationDeg, elevationDeg };
    const own = byPoint.get(pointId);
    if (own === undefined) byPoint.set(pointId, [place]);
    else own.push(place);
  }
  return byPoint;
}
