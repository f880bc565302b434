import { ellipsoidFrom, type Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { parseDecimal } from '../../numeric/text/decimal-text.js';

/** What a registry text says of the geographic system underneath. */
export interface WktBase {
  readonly name: string;
  readonly code: string | null;
  readonly ellipsoid: Ellipsoid;
}

/**
 * The geographic (or geocentric) part of a registry text in the first form of well-known text; null
 * when there is none. Only the name, the spheroid and the authority code are taken.
 *
 * Reference: OGC-01-009, section 7.
 */
export function wktBase(wkt: string): WktBase | null {
  const start = /(?:GEOGCS|GEOCCS)\["([^"]+)",/u.exec(wkt);
  if (start === null) return null;
  const part = balancedPart(wkt, start.index);
  const spheroid = /SPHEROID\["([^"]+)",([\d.]+),([\d.]+)/u.exec(part);
  if (spheroid === null) return null;
  const semiMajorAxisM = parseDecimal(spheroid[2] as string);
  const inverseFlattening = parseDecimal(spheroid[3] as string);
  if (semiMajorAxisM === null || inverseFlattening === null) return null;
  const code = /,AUTHORITY\["EPSG","(\d+)"\]\]$/u.exec(part);
  return {
    name: start[1] as string,
    code: code === null ? null : `EPSG:${code[1] as string}`,
    ellipsoid: ellipsoidFrom(spheroid[1] as string, semiMajorAxisM, inverseFlattening),
  };
}

/** From `start`, the text up to the bracket that closes the first one opened. */
function balancedPart(text: string, start: number): string {
  let depth = 0;
  for (let i = start; i < text.length; i += 1) {
    if (text[i] === '[') depth += 1;
    else if (text[i] === ']') {
      depth -= 1;
      if (depth === 0) return text.slice(start, i + 1);
    }
  }
  return text.slice(start);
}
