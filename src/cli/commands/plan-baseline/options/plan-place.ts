import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { exchangedDegrees } from '../../../../tasks/bases/place-doubt.js';
import type { PlaceSystems } from '../../../../tasks/bases/place-doubt.js';
import { parsePlace } from '../../../inputs/parse-place.js';

/** The base of `--base LAT,LON[,H]`, named `base`. Problem: usage-invalid. */
export function parseBasePlace(text: string): Outcome<PlanPoint> {
  const place = parsePlace(text, '--base');
  if (!place.ok) return place;
  const { longitudeDeg } = place.value;
  return success({ ...place.value, id: 'base', longitudeDeg: longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg });
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
