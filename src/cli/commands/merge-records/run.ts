import type { FinishedRun } from '../../../records/runs/finished-run.js';
import { mergeRecords } from '../../../tasks/reduce/merge-records.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { readRecord } from '../../inputs/read-record.js';
import { createRunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { Workbench } from '../../shell/workbench.js';
import { endWith, isFailing } from '../../shell/run/run-end.js';

/** Adds run records up; see `mergeRecordsSpec`. */
export const runMergeRecords: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const body = async (bench: Workbench): ReturnType<Parameters<typeof withWorkbench>[3]> => {
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    const runs: FinishedRun[] = [];
    for (const path of invocation.args) {
      const { run, source } = bench.take(await readRecord(path, context));
      runs.push(run);
      log.input(source, 'run record', 0, 0);
    }
    const merged = bench.take(mergeRecords(runs, context.argv, (answer) => isFailing(answer, invocation)));
    await sink.write(`${JSON.stringify(merged.record, null, 2)}\n`);
    if (!merged.isCompared)
      bench.diagnostics.say(
        'occupations of one point in different parts were not compared: join the points of the parts, then check-tolerances --repeats',
      );
    bench.diagnostics.say(`${merged.parts} parts, ${merged.rowsRead} rows: ${merged.answer.answer}`);
    return endWith(merged.answer, invocation, log);
  };
  // The output is JSON whatever its name, and messages are for people.
  const spoken: Invocation = { ...invocation, options: { ...invocation.options, format: 'csv' } };
  return withWorkbench(spoken, context, inputPaths(invocation.args, context.cwd), body, log.failure);
};
