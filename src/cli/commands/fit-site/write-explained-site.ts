import type { WorkedPoint } from '../../../records/working-step.js';
import { explainSite } from '../../../tasks/site/explain/explain-site.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** Writes the working of the control point asked for, and returns it; null without --explain, value-unknown-id where there is none of that name. */
export async function writeExplainedSite(run: SiteRun, bench: Workbench): Promise<WorkedPoint | null> {
  const pointId = textOption(bench.invocation, 'explain');
  if (pointId === null) return null;
  const steps = explainSite(run, pointId);
  if (steps === null) {
    nothingToExplain(
      bench,
      pointId,
      `there is no control point ${pointId} in the fit to explain`,
      'name it as it stands in the control file',
    );
    return null;
  }
  const worked = { title: `Control point ${pointId} in the site`, steps };
  await writeWorked(await bench.open('-'), [worked]);
  return worked;
}
