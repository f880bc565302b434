import { degreesToRadians } from '../../numeric/angle-units.js';
import { ownEntry } from '../../numeric/own-entry.js';
import { parseDecimal } from '../../numeric/text/decimal-text.js';
import { parallelRadius } from '../methods/conformal-latitude.js';
import { wktBase, type WktBase } from './wkt-base.js';

const MODIFIED_KROVAK =
  '+proj=mod_krovak +lat_0=49.5 +lon_0=42.5 +alpha=30.2881397222222 +k_0=0.9999 +x_0=5000000 +y_0=5000000 +ellps=bessel +pm=ferro +units=m';

/** Systems for which the index has neither string nor text, as the dataset defines them. Reference: EPSG-DB v10.076. */
const UNWRITTEN: Readonly<Record<string, string>> = {
  2000: '+proj=tmerc +lat_0=0 +lon_0=-62 +k_0=0.9995 +x_0=400000 +y_0=0 +a=6378249.145 +rf=293.465 +units=m',
  5224: `${MODIFIED_KROVAK} +axis=swu`,
  5225: MODIFIED_KROVAK,
  20047: '+proj=tmerc +lat_0=-28 +lon_0=153 +k_0=0.99999 +x_0=150000 +y_0=200000 +ellps=GRS80 +units=m',
  20050:
    '+proj=omerc +lat_0=40.8333333333333333 +lonc=-74 +alpha=58 +gamma=58 +k_0=0.99999 +x_0=457200 +y_0=457200 +ellps=GRS80 +units=ft',
};

/** Parameters of a registry text by the name it gives them. */
type TextNumbers = (name: string) => number;

/** Methods for which the index writes no string, each with the one that says the same. */
const WRITERS: Readonly<Record<string, (of: TextNumbers, base: WktBase) => string>> = {
  'Lambert_Conic_Conformal_(West_Orientated)': (of) =>
    // The false westing is a false easting of the other sign.
    `+proj=lcc +lat_1=${of('Latitude of natural origin')} +lat_0=${of('Latitude of natural origin')} +lon_0=${of('Longitude of natural origin')} +k_0=${of('Scale factor at natural origin')} +x_0=${0 - of('False easting')} +y_0=${of('False northing')} +axis=wnu`,
  'Polar_Stereographic_(variant_C)': (of, { ellipsoid }) => {
    const parallelDeg = of('Latitude of standard parallel');
    const pole = Math.sign(parallelDeg);
    // The false origin lies where the meridian of origin meets the standard parallel; a string counts from the pole.
    const fromPoleM =
      ellipsoid.semiMajorAxisM * parallelRadius(degreesToRadians(parallelDeg), ellipsoid.eccentricitySquared);
    return `+proj=stere +lat_0=${pole * 90} +lat_ts=${parallelDeg} +lon_0=${of('Longitude of origin')} +x_0=${of('Easting at false origin')} +y_0=${of('Northing at false origin') + pole * fromPoleM}`;
  },
  Krovak_Modified: (of) => `${modifiedKrovak(of)} +axis=swu`,
  'Krovak_Modified_(North_Orientated)': (of) => modifiedKrovak(of),
};

/**
 * The PROJ string of a system for which the index has none, made of the registry's text; null where that cannot be.
 *
 * Given: the number of the code; the registry's text, or null. Returned: a string that means what the text does.
 * Reference: IOGP-373-7-2, methods 9826, 9830, 1042, 1043; PROJ-DOC, lcc, stere, mod_krovak.
 */
export function registryString(number: string, wkt: string | null): string | null {
  if (wkt === null) return ownEntry(UNWRITTEN, number) ?? null;
  const writer = ownEntry(WRITERS, /PROJECTION\["([^"]+)"/u.exec(wkt)?.[1] ?? '');
  const base = wktBase(wkt);
  if (writer === undefined || base === null || !wkt.includes(',UNIT["metre",1,')) return null;
  const numbers = new Map(
    Array.from(wkt.matchAll(/PARAMETER\["([^"]+)",([-+\d.eE]+)\]/gu), ([, name = '', text = '']) => [
      name,
      parseDecimal(text),
    ]),
  );
  let isWhole = true;
  const of = (name: string): number => {
    const value = numbers.get(name);
    if (value == null) isWhole = false;
    return value ?? NaN;
  };
  const { semiMajorAxisM, flattening } = base.ellipsoid;
  const text = `${writer(of, base)} +a=${semiMajorAxisM} +rf=${1 / flattening} +units=m`;
  return isWhole ? text : null;
}

function modifiedKrovak(of: TextNumbers): string {
  return `+proj=mod_krovak +lat_0=${of('Latitude of projection centre')} +lon_0=${of('Longitude of origin')} +alpha=${of('Co-latitude of cone axis')} +k_0=${of('Scale factor on pseudo standard parallel')} +x_0=${of('False easting')} +y_0=${of('False northing')}`;
}
