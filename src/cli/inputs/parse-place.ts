import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** A place given on the command line as LAT,LON,H. */
export interface CommandPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number;
}

/** Reads `LAT,LON,H`, decimal or DMS and metres. Problems: usage-invalid. */
export function parsePlaceAndHeight(text: string, option: string): Outcome<CommandPlace> {
  const [latitudeText, longitudeText, heightText, ...more] = text.split(',').map((part) => part.trim());
  const heightM = heightText === undefined ? null : parseDecimal(heightText);
  if (
    latitudeText === undefined ||
    longitudeText === undefined ||
    heightM === null ||
    more.length > 0 ||
    Math.abs(heightM) > 100_000
  ) {
    return failure(
      errorProblem('usage-invalid', {
        message: `${option} ${text} is not LAT,LON,H`,
        received: text,
        hint: `for example ${option} -31.5,21.4,1040: degrees, and metres above the ellipsoid`,
      }),
    );
  }
  const latitude = parseAngle(latitudeText, 'latitude');
  if (!latitude.ok) return failureOf(latitude.problems.map((problem) => asUsage(problem, option)));
  const longitude = parseAngle(longitudeText, 'longitude');
  if (!longitude.ok) return failureOf(longitude.problems.map((problem) => asUsage(problem, option)));
  return success({ latitudeDeg: latitude.value, longitudeDeg: longitude.value, ellipsoidalHeightM: heightM });
}

/** What is wrong on the command line is wrong before anything is read. */
function asUsage(problem: Problem, option: string): Problem {
  return { ...problem, code: 'usage-invalid', message: `${option}: ${problem.message}` };
}
