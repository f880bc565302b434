import { resolve } from 'node:path';
import { adjustNetwork } from '../../../core/network/adjust-network.js';
import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import { openSource } from '../../../io/bytes/source.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import { readPairs } from '../../../io/tables/pairs-read.js';
import { failure } from '../../../records/outcome.js';
import type { ProblemCode } from '../../../records/problem-codes.js';
import { warningProblem } from '../../../records/problem.js';
import type { NetworkObservationResult, NetworkPair } from '../../../records/reports/network-report.js';
import type { Answer } from '../../../records/run-answer.js';
import {
  networkAnswer,
  networkComponents,
  networkControl,
  networkObservations,
  networkParameters,
} from '../../../tasks/network/judge-network.js';
import { networkPair, networkPoints, networkRelations } from '../../../tasks/network/network-report.js';
import type { NetworkRelations } from '../../../tasks/network/network-report.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { loadNetwork } from './load.js';
import type { LoadedNetwork } from './load.js';
import type { NetworkFindings } from './network-json.js';
import { networkSummary } from './network-text.js';
import { unknownStation, writeCovariances, writeObservations, writePoints } from './write-network.js';

const SIDECARS = ['session', 'geoid', 'vectors', 'control', 'levelled', 'distances', 'pairs'] as const;

/** Adjusts a network; see `adjustNetworkSpec`. */
export const runAdjustNetwork: CommandRun = (invocation, context) => {
  const sidecars = SIDECARS.flatMap((name) => textOption(invocation, name) ?? []);
  const inputs = [...invocation.args.filter((path) => path !== '-'), ...sidecars].map((path) =>
    resolve(context.cwd, path),
  );
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => run(bench, log), log.failure);
};

async function run(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const loaded = await loadNetwork(bench, log);
  const { systems, network } = loaded;
  const wrongFrame =
    bench.format === 'geojson' && systems.grid !== null ? geojsonFrameProblem(systems.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  if (diagnostics.errorCount() > loaded.rejected) throw new StopError([]);
  const datum = textOption(invocation, 'datum') ?? 'control';
  const estimatesVariance = textOption(invocation, 'varianceFactor') === 'estimated';
  const excludesOutliers = flagOption(invocation, 'excludeOutliers');
  recordSettings(log, datum, estimatesVariance, excludesOutliers);
  bench.progress.update(`${network.vectors.length} vectors`);
  const adjusted = bench.take(adjustNetwork(network, { datum, excludesOutliers, estimatesVariance }));
  bench.breathe();
  const observations = networkObservations(adjusted);
  const relations = networkRelations(adjusted);
  const points = networkPoints(adjusted, systems, relations, suspectsOf(observations));
  const control = networkControl(adjusted);
  const { answer, reasons } = networkAnswer(adjusted, observations, control);
  const found: NetworkFindings = {
    answer: loaded.rejected > 0 ? 'no' : answer,
    reasons,
    control,
    parameters: networkParameters(adjusted),
    components: reasons.length > 0 || adjusted.freeTest.answer !== 'within' ? networkComponents(adjusted) : [],
    pairs: await pairsAsked(bench, log, adjusted, relations),
  };
  await writePoints(bench, loaded, adjusted, points, found);
  await writeObservations(bench, loaded, observations);
  await writeCovariances(bench, adjusted, relations);
  warnings(bench, loaded, observations, found);
  for (const line of networkSummary(adjusted, points, observations, found)) diagnostics.say(line);
  if (loaded.withoutPlace > 0)
    diagnostics.say(`${loaded.withoutPlace} rejected occupations without a position were passed over`);
  const counts = { within: 0, review: 0, no: 0 };
  for (const { verdict } of [...observations, ...control]) counts[verdict] += 1;
  return endWith(
    {
      answer: found.answer,
      verdicts: new Map<Answer, number>([
        ['within', counts.within],
        ['review', counts.review],
        ['no', counts.no],
      ]),
      reasons: reasonCounts([...observations, ...control]),
    },
    invocation,
    log,
  );
}

function recordSettings(log: RunLog, datum: string, estimatesVariance: boolean, excludesOutliers: boolean): void {
  for (const [key, value] of [
    ['network.datum', datum],
    ['network.variance_factor', estimatesVariance ? 'estimated' : 'none'],
    ['network.exclude_outliers', excludesOutliers],
  ] as const)
    log.setting(key, value, 'command line');
  log.method({
    id: 'adjust-network',
    name: 'least squares with shared errors as unknowns; block tests; control against the free network',
    source: { key: 'BAARDA-1968', locator: 'docs/methods/network.md' },
  });
}

/** Stations that an observation in doubt meets: all of its own, unless a base that many meet. */
function suspectsOf(observations: readonly NetworkObservationResult[]): ReadonlyMap<string, ProblemCode> {
  const foul = new Map<string, number>();
  const all = new Map<string, number>();
  for (const { fromId, toId, reasons } of observations)
    for (const id of [fromId, toId]) {
      all.set(id, (all.get(id) ?? 0) + 1);
      if (reasons.includes('network-observation')) foul.set(id, (foul.get(id) ?? 0) + 1);
    }
  return new Map(
    [...foul].filter(([id, count]) => 2 * count >= all.get(id)!).map(([id]) => [id, 'network-observation']),
  );
}

function reasonCounts(rows: readonly { readonly reasons: readonly string[] }[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { reasons } of rows) for (const reason of reasons) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return counts;
}

async function pairsAsked(
  bench: Workbench,
  log: RunLog,
  adjusted: AdjustedNetwork,
  relations: NetworkRelations,
): Promise<readonly NetworkPair[]> {
  const path = textOption(bench.invocation, 'pairs');
  if (path === null) return [];
  const { context } = bench;
  const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
  const plain = { delimiter: ',', comment: null, skipLines: 0, hasHeader: true, decimalComma: false };
  const pairs = bench.take(await readPairs(bench.take(await readCsv(source, plain)), 5));
  log.input(source, 'pairs', pairs.length, 0);
  const { indexOf } = adjusted.final.solved.list;
  return pairs.flatMap(({ fromId, toId, place }) => {
    for (const id of [fromId, toId])
      if (!indexOf.has(id))
        bench.take(
          failure({ ...unknownStation(id, [...indexOf.keys()]), where: { source: source.name, line: place.line } }),
        );
    const pair = networkPair(adjusted, relations, indexOf.get(fromId)!, indexOf.get(toId)!);
    return pair === null ? [] : [pair];
  });
}

function warnings(
  bench: Workbench,
  { places }: LoadedNetwork,
  observations: readonly NetworkObservationResult[],
  found: NetworkFindings,
): void {
  bench.diagnostics.report([
    ...observations
      .filter(({ verdict }) => verdict === 'no')
      .map(({ kind, index, fromId, toId, reasons }) => {
        const { source, line } = places[kind][index]!;
        return warningProblem(reasons[0]!, {
          message: `${kind} ${fromId} to ${toId} ${reasons[0] === 'network-excluded' ? 'was left out' : 'does not agree with the others'}`,
          where: { source, line },
        });
      }),
    ...found.control
      .filter(({ verdict }) => verdict === 'no')
      .map(({ id, reasons }) =>
        warningProblem(reasons[0]!, {
          message: `control ${id} ${reasons[0] === 'network-excluded' ? 'was left out' : 'does not agree with the network and the other control'}`,
        }),
      ),
  ]);
}
