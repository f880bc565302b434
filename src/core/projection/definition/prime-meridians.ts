import { parseDecimal } from '../../numeric/text/decimal-text.js';
import { formatFixed } from '../../numeric/text/format-fixed.js';
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
  const eastDeg = meridianDeg(primeMeridian);
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

/**
 * Geographic systems of the registry that count from another meridian, and the one of the same datum that counts from Greenwich, where it
 * has one. Reference: EPSG-DB, operations of the method longitude rotation (EPSG:9601).
 */
const FROM_GREENWICH: Readonly<Record<string, string>> = {
  'EPSG:4802': 'EPSG:4218',
  'EPSG:4803': 'EPSG:4207',
  'EPSG:4804': 'EPSG:4257',
  'EPSG:4805': 'EPSG:4312',
  'EPSG:4806': 'EPSG:4265',
  'EPSG:4807': 'EPSG:4275',
  'EPSG:4809': 'EPSG:4215',
  'EPSG:4810': 'EPSG:4297',
  'EPSG:4811': 'EPSG:4304',
  'EPSG:4813': 'EPSG:4211',
  'EPSG:4814': 'EPSG:4308',
  'EPSG:4815': 'EPSG:4120',
  'EPSG:4816': 'EPSG:4223',
  'EPSG:4817': 'EPSG:4273',
  'EPSG:4818': 'EPSG:4156',
  'EPSG:4820': 'EPSG:4613',
  'EPSG:4821': 'EPSG:4671',
  'EPSG:4904': 'EPSG:4666',
  'EPSG:5229': 'EPSG:5228',
};

/**
 * What is to be done with positions in a system that counts from another meridian than Greenwich, or in grads, for a message.
 * Given: its code and name, its meridian as PROJ writes it (null: Greenwich), whether its angles are grads.
 */
export function greenwichAdvice(
  { code, name }: { readonly code: string | null; readonly name: string },
  primeMeridian: string | null,
  isGrads: boolean,
): string {
  const degrees = isGrads ? 'turn its angles into degrees (a grad is 0.9°)' : null;
  const eastDeg = primeMeridian === null ? null : meridianDeg(primeMeridian);
  const longitudes = eastDeg === null ? null : `add ${formatFixed(eastDeg, 9)}° to its longitudes`;
  const counterpart = code === null ? undefined : ownEntry(FROM_GREENWICH, code);
  const system =
    counterpart !== undefined
      ? `name ${counterpart} (${datumFromGreenwich(name)}), which counts from Greenwich`
      : code === null
        ? 'leave +pm out of the definition'
        : 'give the definition of its ellipsoid, as +proj=longlat without +pm: the registry has no such system from Greenwich';
  return [degrees, longitudes, system].filter((part) => part !== null).join(', and ');
}

/** Degrees east of Greenwich of a meridian as PROJ writes it; null: not known. */
function meridianDeg(primeMeridian: string): number | null {
  return ownEntry(PRIME_MERIDIANS, primeMeridian.toLowerCase()) ?? parseDecimal(primeMeridian);
}
