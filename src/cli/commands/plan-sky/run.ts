import { SKY_SYSTEMS } from '../../../records/sky/orbit-elements.js';
import { startSky } from '../../../tasks/sky/run-sky.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { plannedSession } from '../../inputs/known-session.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { listOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { skyLimits, skyOptions } from './sky-options.js';
import { navigationOf, withMasks } from './sky-inputs.js';
import { skySites } from './sky-sites.js';
import { skySummary } from './say/sky-summary.js';
import { openSkyOutputs, saySkyColumns } from './write-sky.js';
import { writeSkyReport } from './write-sky-report.js';

/** Plans the sky of a day; see `planSkySpec`. */
export const runPlanSky: CommandRun = (invocation, context) => {
  const sidecars = [...listOption(invocation, 'navigation'), ...textsGiven(invocation, ['session', 'job', 'masks'])];
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => plan(bench, log), log.failure);
};

async function plan(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const options = bench.take(skyOptions(invocation));
  saySkyColumns(bench);
  const resolved = await plannedSession(bench, log);
  log.session(resolved, diagnostics);
  const limits = bench.take(skyLimits(invocation, resolved.session.acceptance));
  const places = await withMasks(bench, log, await skySites(bench, log, resolved, options.times), options);
  const wrongFrame =
    bench.format === 'geojson' && places.fixesSystem !== null ? geojsonFrameProblem(places.fixesSystem) : null;
  if (wrongFrame !== null) throw new StopError([wrongFrame]);
  const files = await navigationOf(bench, log, options);
  const { elevationMaskDeg, times, systems } = options;
  const elements = files.flatMap((file) => file.elements).filter(({ system }) => systems?.has(system) !== false);
  const { sites, base, ellipsoid } = places;
  const setup = { ellipsoid, sites, base, elements, times, elevationMaskDeg, limits };
  const run = bench.take(startSky(setup));
  diagnostics.report(run.findings.warnings);
  const outputs = await openSkyOutputs(bench, setup, run);
  const skies = [];
  for (const sky of run.sites()) {
    bench.breathe();
    await outputs.add(sky);
    skies.push(sky);
  }
  const skipped = places.rejected + files.reduce((sum, { faults }) => sum + faults.length, 0);
  const answer = skipped > 0 ? withSkipped(run.end()) : run.end();
  const plannedSky = { setup, run, skies, files, answer, offsetMinutes: options.offsetMinutes };
  await outputs.end(plannedSky);
  for (const line of skySummary(plannedSky)) diagnostics.say(line);
  await writeSkyReport(bench, log, plannedSky, resolved.session.title);
  log.method({
    id: 'plan-sky',
    name: `broadcast elements or almanacs of ${SKY_SYSTEMS.join(', ')}; masks; dilution with a clock for each constellation`,
    source: { key: 'IS-GPS-200', locator: 'docs/methods/sky.md' },
  });
  return endWith(answer, invocation, log);
}

/** Rows that were left out on request make the answer no, as everywhere. */
function withSkipped(answer: RunAnswer): RunAnswer {
  return { ...answer, answer: 'no' };
}
