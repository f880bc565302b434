import { parseAngle } from '../../../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { failure, failureOf, success } from '../../../../records/outcome.js';
import type { Failure, Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { exchangedDegrees } from '../../../../tasks/bases/place-doubt.js';
import type { PlaceSystems } from '../../../../tasks/bases/place-doubt.js';
import { badOption } from './plan-settings.js';
import { entryAt } from '../../../../records/present.js';

/** The base of `--base LAT,LON[,H]`, named `base`. Problem: usage-invalid. */
export function parseBasePlace(text: string): Outcome<PlanPoint> {
  const parts = text.split(',').map((part) => part.trim());
  if (parts.length < 2 || parts.length > 3)
    return badOption('--base', text, 'LAT,LON or LAT,LON,H, such as -31.5,21.4,1040');
  const latitude = parseAngle(entryAt(parts, 0), 'latitude');
  if (!latitude.ok) return badAngle(text, latitude.problems);
  const longitude = parseAngle(entryAt(parts, 1), 'longitude');
  if (!longitude.ok) return badAngle(text, longitude.problems);
  const heightM = parts[2] === undefined ? null : parseDecimal(parts[2]);
  if (parts[2] !== undefined && (heightM === null || !(heightM >= -12_000 && heightM <= 100_000)))
    return badOption('the height of --base,', parts[2], 'a number of metres above the ellipsoid');
  const longitudeDeg = longitude.value > 180 ? longitude.value - 360 : longitude.value;
  return success({ id: 'base', latitudeDeg: latitude.value, longitudeDeg, ellipsoidalHeightM: heightM });
}

/** Problem: usage-invalid where the base lies far outside the area of use, and inside when exchanged or with another sign. */
export function checkBasePlace({ latitudeDeg, longitudeDeg }: PlanPoint, systems: PlaceSystems): Outcome<null> {
  const doubt = exchangedDegrees(latitudeDeg, longitudeDeg, systems);
  if (doubt === null || systems.acceptsPosition === true) return success(null);
  if (doubt.severity === 'warning') return success(null, [{ ...doubt, message: `--base: ${doubt.message}` }]);
  return failure(
    errorProblem('usage-invalid', {
      message: `--base: ${doubt.message}`,
      received: `${String(latitudeDeg)},${String(longitudeDeg)}`,
      hint: 'the latitude comes first, north and east are positive: --base LAT,LON[,H]',
    }),
  );
}

/** What is wrong with an angle, as a problem of the command line. */
function badAngle(text: string, problems: readonly Problem[]): Failure {
  return failureOf(
    problems.map(({ message, hint }) =>
      errorProblem('usage-invalid', {
        message: `--base ${text}: ${message}`,
        received: text,
        ...(hint !== undefined && { hint }),
      }),
    ),
  );
}
