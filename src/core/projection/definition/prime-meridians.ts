import { parseDecimal } from '../../numeric/text/decimal-text.js';
import { ownEntry } from '../../numeric/own-entry.js';
import type { ProjParameters } from './projection-parameters.js';

/** Prime meridians by PROJ's name, degrees east of Greenwich. Reference: EPSG-DB, prime meridians; PROJ-DOC, +pm. */
const PRIME_MERIDIANS: Readonly<Record<string, number>> = {
  lisbon: -(9 + 7 / 60 + 54.862 / 3600),
  paris: 2 + 20 / 60 + 14.025 / 3600,
  bogota: -(74 + 4 / 60 + 51.3 / 3600),
  madrid: -(3 + 41 / 60 + 14.55 / 3600),
  rome: 12 + 27 / 60 + 8.4 / 3600,
  bern: 7 + 26 / 60 + 22.5 / 3600,
  jakarta: 106 + 48 / 60 + 27.79 / 3600,
  ferro: -(17 + 40 / 60),
  brussels: 4 + 22 / 60 + 4.71 / 3600,
  stockholm: 18 + 3 / 60 + 29.8 / 3600,
  athens: 23 + 42 / 60 + 58.815 / 3600,
  oslo: 10 + 43 / 60 + 22.5 / 3600,
};

/**
 * Parameters whose longitudes count from Greenwich, whatever meridian the definition counts from; null where that meridian
 * is not known. Given: parsed parameters. Reference: EPSG-DB, prime meridians.
 */
export function countedFromGreenwich(parameters: ProjParameters): ProjParameters | null {
  const { primeMeridian, numbers } = parameters;
  if (primeMeridian === null) return parameters;
  const eastDeg = ownEntry(PRIME_MERIDIANS, primeMeridian.toLowerCase()) ?? parseDecimal(primeMeridian);
  if (eastDeg === null || Math.abs(eastDeg) > 180) return null;
  const { lon_0: origin, lonc: centre } = numbers;
  // A zone of the universal grid counts from Greenwich by its definition.
  if (numbers.zone !== undefined || (origin === undefined && centre === undefined)) return null;
  return {
    ...parameters,
    primeMeridian: null,
    numbers: {
      ...numbers,
      ...(origin === undefined ? {} : { lon_0: origin + eastDeg }),
      ...(centre === undefined ? {} : { lonc: centre + eastDeg }),
    },
  };
}

/**
 * The name that a geographic system has where it counts from Greenwich: the registry names those of one datum alike but for
 * the meridian in brackets, `NTF (Paris)` and `NTF`, and joins the two by a rotation of longitude alone.
 * Reference: EPSG-DB, operations of the method longitude rotation (EPSG:9601).
 *
 * @example
 * datumFromGreenwich('NTF (Paris)'); // 'NTF'
 */
export function datumFromGreenwich(name: string): string {
  return name.replace(/ \((?<meridian>[A-Za-z]+)\)$/u, (whole, meridian: string) =>
    ownEntry(PRIME_MERIDIANS, meridian.toLowerCase()) === undefined ? whole : '',
  );
}
