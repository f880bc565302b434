import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import type { Fix } from '../../records/points/fix.js';
import { locateProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RecordList } from '../../records/record-list.js';
import { exchangedDegrees } from './place-doubt.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { present } from '../../records/present.js';

/** Where the fixes of an occupation begin, for messages. */
export function placeOf(fixes: RecordList<Fix>, setup: ReductionSetup): { source: string; line: number } {
  const place = fixes.at(0)?.place;
  // A problem of no row is placed at the head of the first file.
  return { source: setup.sources[place?.sourceIndex ?? 0] ?? '', line: place?.line ?? 0 };
}

/** coordinates-swapped or coordinate-implausible where the first fix lies far outside the area of use, and inside the other way about or with another sign; else null. */
export function exchangedFix(fixes: RecordList<Fix>, setup: ReductionSetup): Problem | null {
  const area = setup.grid?.areaOfUse ?? null;
  const first = fixes.at(0);
  if (area === null || first === undefined) return null;
  const { latitudeDeg, longitudeDeg } = first.geodetic;
  if (isInsideArea(area, latitudeDeg, longitudeDeg)) return null;
  const problem = exchangedDegrees(latitudeDeg, longitudeDeg, setup);
  return problem === null ? null : locateProblem(problem, placeOf(fixes, setup));
}

/** The warning for an occupation outside the grid's area of use. */
export function outsideArea(fixes: RecordList<Fix>, setup: ReductionSetup): Problem {
  const { pointId } = present(fixes.at(0), 'the first fix');
  const { name, areaOfUse } = present(setup.grid, 'grid');
  return warningProblem('coordinate-outside-area', {
    message: `point ${pointId} is outside the area of use of ${name}: ${present(areaOfUse, 'areaOfUse').description}`,
    where: placeOf(fixes, setup),
    hint: 'check the zone; the scale factor and the convergence grow outside it',
  });
}
