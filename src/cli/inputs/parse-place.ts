import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** A place given on the command line: degrees, north and east positive; metres above the ellipsoid, null where none is given. */
export interface CommandPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
}

/** Heights that a place may have, metres: those of every table. */
const LEAST_HEIGHT_M = -12_000;
const MOST_HEIGHT_M = 100_000;

/**
 * Reads the place of an option, `LAT,LON` or `LAT,LON,H`: decimal or DMS, and metres. The one reading of every command.
 * Problems: usage-invalid. What is wrong on the command line is wrong before anything is read.
 */
export function parsePlace(text: string, option: string): Outcome<CommandPlace> {
  const [latitudeText, longitudeText, heightText, ...more] = text.split(',').map((part) => part.trim());
  if (latitudeText === undefined || longitudeText === undefined || more.length > 0)
    return notAPlace(text, option, 'LAT,LON or LAT,LON,H');
  const latitude = parseAngle(latitudeText, 'latitude');
  if (!latitude.ok) return ofOption(latitude.problems, text, option);
  const longitude = parseAngle(longitudeText, 'longitude');
  if (!longitude.ok) return ofOption(longitude.problems, text, option);
  const heightM = heightText === undefined ? null : parseDecimal(heightText);
  if (heightText !== undefined && (heightM === null || !(heightM >= LEAST_HEIGHT_M && heightM <= MOST_HEIGHT_M)))
    return failure(
      errorProblem('usage-invalid', {
        message: `the height of ${option}, ${heightText}, is not a number of metres above the ellipsoid`,
        received: heightText,
        expected: `${String(LEAST_HEIGHT_M)} to ${String(MOST_HEIGHT_M)}`,
      }),
    );
  return success({ latitudeDeg: latitude.value, longitudeDeg: longitude.value, ellipsoidalHeightM: heightM });
}

/** The same where the height is needed: `LAT,LON,H`. */
export function parsePlaceAndHeight(
  text: string,
  option: string,
): Outcome<CommandPlace & { readonly ellipsoidalHeightM: number }> {
  const place = parsePlace(text, option);
  if (!place.ok) return place;
  const { ellipsoidalHeightM } = place.value;
  return ellipsoidalHeightM === null
    ? notAPlace(text, option, 'LAT,LON,H')
    : success({ ...place.value, ellipsoidalHeightM });
}

function notAPlace(text: string, option: string, expected: string): Failure {
  return failure(
    errorProblem('usage-invalid', {
      message: `${option} ${text} is not ${expected}`,
      received: text,
      expected,
      hint: `for example ${option} -31.5,21.4,1040: degrees, and metres above the ellipsoid`,
    }),
  );
}

function ofOption(problems: readonly Problem[], text: string, option: string): Failure {
  return failureOf(
    problems.map(({ message, hint }) =>
      errorProblem('usage-invalid', {
        message: `${option}: ${message}`,
        received: text,
        ...(hint !== undefined && { hint }),
      }),
    ),
  );
}
