import { STANDARDS } from '../../../core/quality/standards/standards.js';
import { checkAxes } from '../../../files/check/check-axes.js';
import { failure } from '../../../records/outcome.js';
import { checkPoints, NO_CHECKS } from '../../../tasks/check/check-points.js';
import { rulesByUse } from '../../../tasks/check/judge/check-limits.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { loadCheck } from '../../inputs/load-check.js';
import { tableOptions } from '../../inputs/table-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { flagOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { breathing } from './breathing.js';
import { openCheckPlaces } from './check-tolerances-places.js';
import { finishChecks } from './finish-checks.js';
import { runIsoCheck } from './iso/iso-run.js';
import { askedChecks } from './options/asked-checks.js';
import { checkConflicts } from './options/check-conflicts.js';
import { askedLimits } from './options/check-limits.js';
import { sayStandard, standardNamed, standardsText } from './options/standard-option.js';
import { checkNames } from './check-columns.js';
import { runRegisterCheck } from './register/register-run.js';
import { readCheckInputs, rowsSkipped } from './read-check-inputs.js';
import { countFixes } from './read-fixes.js';

/** Control, repeats, design, standards; see `checkTolerancesSpec`. */
export const runCheckTolerances: CommandRun = (invocation, context) => {
  const files = textsGiven(invocation, ['session', 'control', 'design', 'fixes', 'limits', 'campaign']);
  const inputs = inputPaths([...invocation.args, ...files], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => check(bench, log), log.failure);
};

async function check(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation } = bench;
  if (textOption(invocation, 'standard') === 'list') {
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    await sink.write(standardsText());
    return endWith(rowsAnswer(STANDARDS.length, 0), invocation, log);
  }
  const standard = bench.take(standardNamed(textOption(invocation, 'standard')));
  bench.take(checkConflicts(invocation, standard));
  const tables = bench.take(tableOptions(invocation, null));
  if (standard !== null) sayStandard(standard, bench, log);
  if (standard?.kind === 'iso-17123-8') return runIsoCheck(bench, log, tables, standard);
  const { setup: loaded, resolved, places: fixPlaces } = await loadCheck(bench, log);
  const { session } = resolved;
  const drawsMap = bench.format === 'geojson' || textOption(invocation, 'vectors') !== null;
  const wrongFrame = loaded.grid !== null && drawsMap ? geojsonFrameProblem(loaded.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  if (flagOption(invocation, 'register')) return runRegisterCheck(bench, log, tables, loaded, resolved);
  const { limits, lines } = await askedLimits(bench, log, standard, session.tolerance);
  const places = await openCheckPlaces(bench);
  const fixes = await countFixes(
    bench,
    log,
    loaded,
    session,
    fixPlaces,
    standard === null ? null : standard.acceptance,
  );
  const inputs = invocation.args.length === 0 ? null : await readCheckInputs(bench, log, tables, loaded.grid);
  if (flagOption(invocation, 'checkOnly'))
    return endWith(rowsAnswer(inputs?.measured.points.length ?? 0, rowsSkipped(inputs)), invocation, log); // Without a file there is no point.
  const axes = checkAxes(loaded.grid, inputs === null ? null : inputs.measured.input.axes);
  bench.columns(checkNames(axes, standard?.kind === 'classes'));
  const tilts = fixes === null ? loaded.tilts : fixes.tilts;
  const setup = { ...loaded, ...rulesByUse(limits), tilts, axes, day: null };
  const asked = askedChecks(invocation, inputs, standard);
  const checks = inputs === null ? NO_CHECKS : bench.take(checkPoints(inputs.measured, asked, setup, breathing(bench)));
  return finishChecks(bench, log, { places, setup, session, inputs, asked, checks, fixes, lines });
}
