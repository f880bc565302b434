import { failureOf } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import type { PreparedRun } from './prepare-run.js';
import type { OccupationSkyWriter } from './say/occupation-sky.js';

/** A run whose inputs were checked. */
export interface CheckedRun {
  readonly run: PreparedRun;
  /** Null: no navigation file is named. */
  readonly sky: OccupationSkyWriter | null;
  /** Rows with errors that were left out. */
  readonly skipped: number;
}

/** The end of a run that checked its inputs and reduced nothing. Stops where the job leaves out or renames what is not there. */
export async function endChecked(
  bench: Workbench,
  log: RunLog,
  { run: { job, edits }, sky, skipped }: CheckedRun,
): Promise<RunEnd> {
  await sky?.end();
  const unmatched = job === null || edits === null ? [] : edits.unmatched(entryAt(job.sources, 0).name);
  if (unmatched.length > 0) bench.take(failureOf(unmatched));
  return endWith(
    rowsAnswer(
      log.inputs.reduce((sum, { rowsUsed }) => sum + rowsUsed, 0),
      skipped,
    ),
    bench.invocation,
    log,
  );
}
