import { workingText } from '../../../tasks/explain/explain-point.js';
import { explainSite } from '../../../tasks/site/explain/explain-site.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** Writes the working of the control point asked for; whether one was. value-unknown-id where there is none of that name. */
export async function writeExplainedSite(run: SiteRun, bench: Workbench): Promise<boolean> {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return false;
  const steps = explainSite(run, wanted);
  if (steps === null) {
    nothingToExplain(
      bench,
      wanted,
      `there is no control point ${wanted} in the fit to explain`,
      'name it as it stands in the control file',
    );
    return true;
  }
  await (await bench.open('-')).write(workingText(`Control point ${wanted} in the site`, steps));
  return true;
}
