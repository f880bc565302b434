import type { AreaOfUse } from '../../projection/definition/system-definition.js';

/**
 * Whether a place is in an area of use, its edges included. An area whose west is greater than its
 * east crosses the 180th meridian.
 *
 * Given: degrees, north and east positive, longitude −180…360.
 */
export function isInsideArea(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number): boolean {
  if (!(latitudeDeg >= area.southDeg && latitudeDeg <= area.northDeg)) return false;
  return eastOf(area.westDeg, longitudeDeg) <= width(area);
}

/** Degrees from `fromDeg` eastward to `toDeg`, 0 up to 360. */
function eastOf(fromDeg: number, toDeg: number): number {
  const apart = toDeg - fromDeg;
  // Within a turn the remainder is the difference itself, and to ask for it takes as long as the rest.
  const turned = apart > -360 && apart < 360 ? apart : apart % 360;
  return turned < 0 ? turned + 360 : turned;
}

function width(area: AreaOfUse): number {
  return area.eastDeg - area.westDeg >= 360 ? 360 : eastOf(area.westDeg, area.eastDeg);
}

/**
 * How far a place is from an area of use, along a great circle on a sphere of 6371 km: good to half
 * a percent, which is enough to say how wrong a zone is.
 *
 * Given: degrees. Returned: kilometres, 0 inside.
 */
export function distanceToAreaKm(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number): number {
  if (isInsideArea(area, latitudeDeg, longitudeDeg)) return 0;
  const clamped = Math.min(area.northDeg, Math.max(area.southDeg, latitudeDeg));
  const inLongitude = eastOf(area.westDeg, longitudeDeg) <= width(area);
  if (inLongitude) return arcKm(Math.abs(latitudeDeg - clamped));
  // The nearest point of the box lies on its western or its eastern side.
  return Math.min(
    distanceToMeridianKm(area, latitudeDeg, longitudeDeg, area.westDeg),
    distanceToMeridianKm(area, latitudeDeg, longitudeDeg, area.eastDeg),
  );
}

/** Distance to the part of a meridian between the area's south and north. */
function distanceToMeridianKm(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number, sideDeg: number): number {
  const phi = radians(latitudeDeg);
  const dl = radians(longitudeDeg - sideDeg);
  // Latitude at which the great circle square to the meridian meets it, then kept within the side.
  const foot = Math.atan2(Math.sin(phi), Math.cos(phi) * Math.cos(dl));
  const nearest = Math.min(radians(area.northDeg), Math.max(radians(area.southDeg), foot));
  const cosine = Math.sin(phi) * Math.sin(nearest) + Math.cos(phi) * Math.cos(nearest) * Math.cos(dl);
  return Math.acos(Math.min(1, Math.max(-1, cosine))) * 6371;
}

function radians(angleDeg: number): number {
  return (angleDeg * Math.PI) / 180;
}

function arcKm(angleDeg: number): number {
  return radians(angleDeg) * 6371;
}
