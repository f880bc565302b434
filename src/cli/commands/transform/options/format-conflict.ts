import type { OutputFormat } from '../../../../files/points/points-writer.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import { formWritten } from '../../../../tasks/transform/transform-plan.js';
import { geojsonFrameProblem } from '../../../outputs/geojson-frame.js';

/** usage-conflict where the form of the output cannot hold what is asked for; those of the frame of GeoJSON. */
export function formatConflict(planned: PlannedTransform, format: OutputFormat, dms: boolean): Problem | null {
  if (dms && planned.end?.kind === 'site' && formWritten(planned.plan) !== 'place')
    return errorProblem('usage-conflict', {
      message: '--angles dms has nothing to write: a site has plane coordinates',
      hint: 'leave it out',
    });
  if (dms && format === 'geojson')
    return errorProblem('usage-conflict', {
      message: 'GeoJSON holds decimal degrees',
      hint: 'leave out --angles dms, or write CSV',
    });
  return format === 'geojson' ? geojsonFrameProblem(planned.to.geographic) : null;
}
