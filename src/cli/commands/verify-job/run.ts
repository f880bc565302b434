import { verifyJob } from '../../../files/ledger/verify-job.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import { verifiedJobTable, verifiedJobWords } from './verified-job-text.js';
import { entryAt } from '../../../records/present.js';

/** Holds a job against its ledger; see `verifyJobSpec`. */
export const runVerifyJob: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  return withWorkbench(
    invocation,
    context,
    inputPaths(invocation.args, context.cwd),
    async (bench) => {
      const head = textOption(invocation, 'head');
      if (head !== null && !/^[0-9a-f]{64}$/u.test(head))
        bench.take(
          failure(
            errorProblem('usage-invalid', {
              message: `--head ${head} is no SHA-256`,
              received: head,
              expected: '64 digits of 0-9 and a-f',
              hint: 'the front sheet of a delivery and verify-job itself print it',
            }),
          ),
        );
      if (bench.format === 'geojson')
        bench.take(
          failure(
            errorProblem('usage-conflict', {
              message: 'changes have no place on a map, and --format says geojson',
              hint: 'csv or json',
            }),
          ),
        );
      const job = bench.take(await verifyJob(entryAt(invocation.args, 0), context.cwd, head));
      const isForPeople = textOption(invocation, 'format') === null && textOption(invocation, 'output') === null;
      const sink = await bench.open(textOption(invocation, 'output') ?? '-');
      await sink.write(
        isForPeople
          ? verifiedJobWords(job)
          : verifiedJobTable(job, bench.format === 'json' ? 'json' : 'csv', csvWriteOptions(invocation)),
      );
      const reasons = new Map<string, number>();
      for (const { code } of job.changes) reasons.set(code, (reasons.get(code) ?? 0) + 1);
      const answer = job.changes.length === 0 ? 'within' : 'no';
      const files = new Set(job.standing.map(({ name }) => name)).size;
      const changed = new Set(job.changes.flatMap(({ name }) => name ?? [])).size;
      return endWith(
        {
          answer,
          verdicts: new Map([
            ['within', files - changed],
            ['no', changed],
          ]),
          reasons,
        },
        invocation,
        log,
      );
    },
    log.failure,
  );
};
