import { parseAngle } from '../../../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { failure } from '../../../../records/outcome.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { entryAt } from '../../../../records/present.js';
import type { DescribedPlace } from '../../../../tasks/describe/place-in-grid.js';

/** Reads --at, `LAT,LON` or `LAT,LON,H`. Problems: usage-invalid; those of angles. */
export function parsePlaceAt(text: string): Outcome<DescribedPlace> {
  const parts = text.split(',').map((part) => part.trim());
  if (parts.length < 2 || parts.length > 3) {
    return failure(
      errorProblem('usage-invalid', {
        message: `--at ${text} is not LAT,LON or LAT,LON,H`,
        received: text,
        hint: 'for example --at -31.5,21.4,1040',
      }),
    );
  }
  const latitude = parseAngle(entryAt(parts, 0), 'latitude');
  if (!latitude.ok) return latitude;
  const longitude = parseAngle(entryAt(parts, 1), 'longitude');
  if (!longitude.ok) return longitude;
  const height = parts[2] === undefined ? null : parseDecimal(parts[2]);
  if (parts[2] !== undefined && height === null) {
    return failure(
      errorProblem('usage-invalid', {
        message: `the height of --at, ${parts[2]}, is not a number`,
        received: parts[2],
      }),
    );
  }
  return success({ latitudeDeg: latitude.value, longitudeDeg: longitude.value, ellipsoidalHeightM: height });
}
