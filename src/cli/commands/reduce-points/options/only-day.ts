import { resolveSession } from '../../../inputs/session-settings.js';
import { tableOptions } from '../../../inputs/table-options.js';
import { flagOption, textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { RunDay } from '../prepare-run.js';
import { logTables } from './log-tables.js';
import { openOccupations } from './open-occupations.js';

/** The day of a run without a job. */
export async function onlyDay(bench: Workbench, log: RunLog, paths: readonly string[]): Promise<RunDay> {
  const { invocation, context } = bench;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  const tables = bench.take(tableOptions(invocation, resolved.session));
  logTables(log, tables, resolved, null);
  const occupations = bench.take(await openOccupations(textOption(invocation, 'occupations'), context));
  if (occupations !== null) log.input(occupations.source, 'occupations', occupations.intervals.length, 0);
  return {
    id: null,
    paths,
    firstSource: 0,
    surroundings: context,
    resolved,
    tables,
    occupations: occupations?.intervals ?? null,
    acceptsBaseShift: flagOption(invocation, 'acceptBaseShift'),
  };
}
