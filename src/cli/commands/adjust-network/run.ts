import { resolve } from 'node:path';
import { failure } from '../../../records/outcome.js';
import { networkResults, networkRunAnswer } from '../../../tasks/network/network-results.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { flagOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { networkInputs, recordPaths } from './network-inputs.js';
import { distortionsAsked, recordDistortions } from './distortions-asked.js';
import { recordSettings } from './record-settings.js';
import { pairsAsked, pairsNamed } from './pairs-asked.js';
import { networkSummary } from './say/network-text.js';
import { networkWarnings } from './say/network-warnings.js';
import { writeCovariances, writeObservations, writePoints, writeShapes } from './write-network.js';

const SIDECARS = ['session', 'geoid', 'vectors', 'control', 'levelled', 'distances', 'pairs'] as const;

/** No file of them is named. */
const NO_PAIRS = [] as const;

/** Adjusts a network; see `adjustNetworkSpec`. */
export const runAdjustNetwork: CommandRun = (invocation, context) => {
  const sidecars = [...textsGiven(invocation, SIDECARS), ...recordPaths(invocation)];
  const inputs = [...invocation.args.filter((path) => path !== '-'), ...sidecars].map((path) =>
    resolve(context.cwd, path),
  );
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => run(bench, log), log.failure);
};

async function run(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const loaded = await networkInputs(bench, log);
  const { systems, network, bases, rejected } = loaded;
  const isMapped = bench.format === 'geojson' || textOption(invocation, 'shapes') !== null;
  const wrongFrame = isMapped && systems.grid !== null ? geojsonFrameProblem(systems.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const distortions = bench.take(distortionsAsked(invocation, network));
  const named = await pairsNamed(bench, log);
  if (flagOption(invocation, 'checkOnly'))
    return endWith(rowsAnswer(network.vectors.length, rejected), invocation, log);
  const choice = {
    datum: textOption(invocation, 'datum') ?? 'control',
    estimatesVariance: textOption(invocation, 'varianceFactor') === 'estimated',
    excludesOutliers: flagOption(invocation, 'excludeOutliers'),
    distortions,
  } as const;
  recordSettings(log, choice);
  bench.progress.update(`${String(network.vectors.length)} vectors`);
  const results = bench.take(networkResults(network, systems, bases, choice, rejected > 0));
  bench.breathe();
  recordDistortions(log, distortions, results);
  const pairs = pairsAsked(bench, named, results);
  const worked = await writePoints(bench, results, pairs);
  await writeObservations(bench, loaded.places, results.observations);
  await writeCovariances(bench, results, named?.pairs ?? NO_PAIRS);
  await writeShapes(bench, results, pairs);
  diagnostics.report(networkWarnings(loaded.places, results));
  // Who asks for the working of one station is told of nothing else.
  if (textOption(invocation, 'explain') === null || textOption(invocation, 'output') !== null)
    for (const line of networkSummary(results, pairs, loaded.withoutPlace)) diagnostics.say(line);
  const report = textOption(invocation, 'report');
  if (report !== null)
    await (
      await import('./network-report-write.js')
    ).writeNetworkReport(report, loaded, results, pairs, bench, log, worked);
  return endWith(networkRunAnswer(results), invocation, log);
}
