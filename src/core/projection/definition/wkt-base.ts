import { ellipsoidFrom, type Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { parseWkt, wktChild, wktCode } from './wkt-nodes.js';
import { parseDecimal } from '../../numeric/text/decimal-text.js';

/** What a registry text says of the geographic system underneath. */
export interface WktBase {
  readonly name: string;
  readonly code: string | null;
  readonly ellipsoid: Ellipsoid;
}

/**
 * The geographic (or geocentric) part of a registry text, or of a text in the second form of well-known text; null
 * when there is none. Only the name, the ellipsoid and the authority code are taken.
 *
 * Reference: OGC-01-009, section 7; OGC-18-010.
 */
export function wktBase(wkt: string): WktBase | null {
  if (/^\s*PROJ(?:ECTED)?CRS\s*[[(]/iu.test(wkt)) return baseOfSecondForm(wkt);
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

function baseOfSecondForm(wkt: string): WktBase | null {
  const node = parseWkt(wkt);
  const base = node === null ? null : wktChild(node, 'BASEGEOGCRS', 'BASEGEODCRS');
  const datum = base === null ? null : wktChild(base, 'DATUM', 'ENSEMBLE', 'GEODETICDATUM', 'TRF');
  const shape = datum === null ? null : wktChild(datum, 'ELLIPSOID', 'SPHEROID');
  if (base === null || shape === null) return null;
  const [a, inverse] = shape.numbers;
  if (a === undefined || inverse === undefined) return null;
  const code = wktCode(base);
  return {
    name: base.texts[0] ?? 'unnamed',
    code: code === null ? null : `EPSG:${String(code)}`,
    ellipsoid: ellipsoidFrom(shape.texts[0] ?? 'unnamed', a, inverse),
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
