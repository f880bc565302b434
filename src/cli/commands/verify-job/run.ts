import { verifyJob } from '../../../files/ledger/verify-job.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import { verifiedAnswer } from '../../../tasks/job/ledger/verified-answer.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { verifiedJobTable, verifiedJobWords } from './verified-job-text.js';

/** Holds a job against its ledger; see `verifyJobSpec`. */
export const runVerifyJob: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const inputs = inputPaths(invocation.args, context.cwd);
  return withWorkbench(invocation, context, inputs, (bench) => verify(bench, log), log.failure);
};

async function verify(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context } = bench;
  const head = bench.take(headAsked(bench));
  const name = entryAt(invocation.args, 0);
  const job = bench.take(await verifyJob(name, context.cwd, head));
  log.file(name, 'job', job.own.bytes, job.own.sha256);
  const isForPeople = textOption(invocation, 'format') === null && textOption(invocation, 'output') === null;
  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  await sink.write(
    isForPeople
      ? verifiedJobWords(job)
      : verifiedJobTable(job, bench.format === 'json' ? 'json' : 'csv', csvWriteOptions(invocation)),
  );
  return endWith(verifiedAnswer(job.standing, job.changes), invocation, log);
}

/** The digest of --head; null: none is asked for. Problems: usage-invalid for what is none; usage-conflict for a map of changes. */
function headAsked({ invocation, format }: Workbench): Outcome<string | null> {
  const head = textOption(invocation, 'head');
  if (head !== null && !/^[0-9a-f]{64}$/u.test(head))
    return failure(
      errorProblem('usage-invalid', {
        message: `--head ${head} is no SHA-256`,
        received: head,
        expected: '64 digits of 0-9 and a-f',
        hint: 'the front sheet of a delivery and verify-job itself print it',
      }),
    );
  if (format === 'geojson')
    return failure(
      errorProblem('usage-conflict', {
        message: 'changes have no place on a map, and --format says geojson',
        hint: 'csv or json',
      }),
    );
  return success(head);
}
