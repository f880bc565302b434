import { failure } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { checkAxes } from '../../../files/check/check-axes.js';
import { rulesByUse } from '../../../tasks/check/judge/check-limits.js';
import type { MovementLimits } from '../../../tasks/job/runs/compare-runs.js';
import { runComparison } from '../../../tasks/job/runs/run-comparison.js';
import type { ComparedSide } from '../../../tasks/job/runs/run-comparison.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { loadCheck } from '../../inputs/load-check.js';
import { resolveSession } from '../../inputs/session-settings.js';
import { tableOptions } from '../../inputs/table-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { numberOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { CHANGE_COLUMNS } from './change-columns.js';
import { comparisonLines } from './comparison-text.js';
import { oneSystem } from './one-system.js';
import { pointsOf } from './run-points.js';
import { runSide } from './run-side.js';
import type { RunSide } from './run-side.js';
import { writeChanges } from './write-changes.js';

/** Compares two runs; see `compareRunsSpec`. */
export const runCompareRuns: CommandRun = (invocation, context) => {
  const inputs = inputPaths([...invocation.args, ...textsGiven(invocation, ['session', 'geoid'])], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => compare(bench, log), log.failure);
};

async function compare(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const tables = bench.take(tableOptions(invocation, null));
  const limits: MovementLimits = {
    horizontalM: numberOption(invocation, 'limitHorizontal'),
    verticalM: numberOption(invocation, 'limitVertical'),
  };
  bench.columns(CHANGE_COLUMNS.map(({ name }) => name));
  const sides: RunSide[] = [];
  for (const name of invocation.args) sides.push(bench.take(await runSide(name, context)));
  const told = bench.take(await resolveSession(invocation, context)).session.system?.grid ?? null;
  const system = bench.take(oneSystem(sides, told === '' ? null : told));
  const { setup: loaded, resolved } = await loadCheck({ ...bench, invocation: withSystem(invocation, system) }, log);
  const wrongFrame = bench.format === 'geojson' && loaded.grid !== null ? geojsonFrameProblem(loaded.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  log.method({
    id: 'compare-runs',
    name: 'movement against the covariance of the difference; of the same observations against their own 95 %',
    source: { key: 'NIST-HANDBOOK', locator: 'docs/methods/run-comparison.md' },
  });
  const read: ComparedSide[] = [];
  for (const side of sides)
    read.push({ points: await pointsOf(side, bench, log, loaded, tables), record: side.record?.run ?? null });
  const setup = { ...loaded, ...rulesByUse([]), axes: checkAxes(loaded.grid, null), day: null };
  const { changes, summary, differences, answer } = runComparison(entryAt(read, 0), entryAt(read, 1), setup, limits);
  await writeChanges(bench, changes, { summary, differences, answer, system });
  log.summary({
    // A run without a title has none in its record.
    title: resolved.session.title ?? '',
    points: changes.length,
    firstEpochMs: null,
    lastEpochMs: null,
    bases: [],
    largest: summary.largest,
  });
  for (const line of comparisonLines(changes, summary, limits, differences)) diagnostics.say(line);
  diagnostics.say(`verdict: ${answer.answer}`);
  return endWith(answer, invocation, log);
}

function withSystem(invocation: Workbench['invocation'], system: string): Workbench['invocation'] {
  return { ...invocation, options: { ...invocation.options, system } };
}
