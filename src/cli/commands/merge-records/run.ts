import { readRunRecord } from '../../../io/documents/run-record-read.js';
import { openSource } from '../../../io/bytes/source.js';
import { wholeText } from '../../../io/text/whole-text.js';
import type { FinishedRun } from '../../../records/finished-run.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { mergeRecords } from '../../../tasks/reduce/merge-records.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { createRunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { Workbench } from '../../shell/workbench.js';
import { endWith, isFailing } from '../../shell/run-end.js';

/** A record is some kilobytes; this is none. */
const LARGEST_BYTES = 16 << 20;

/** Adds run records up; see `mergeRecordsSpec`. */
export const runMergeRecords: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const body = async (bench: Workbench): ReturnType<Parameters<typeof withWorkbench>[3]> => {
    const format = textOption(invocation, 'format') ?? 'json';
    if (format !== 'json')
      bench.take(
        failure(
          errorProblem('usage-conflict', { message: `a run record is written as JSON, and --format says ${format}` }),
        ),
      );
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    const runs: FinishedRun[] = [];
    for (const path of invocation.args) {
      const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin }));
      runs.push(bench.take(readRunRecord(bench.take(await wholeText(source, LARGEST_BYTES)), source.name)));
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
  // Messages are for people unless JSON is asked for by name: the output is JSON always.
  const spoken: Invocation = {
    ...invocation,
    options: { ...invocation.options, format: textOption(invocation, 'format') ?? 'csv' },
  };
  return withWorkbench(spoken, context, inputPaths(invocation.args, context.cwd), body, log.failure);
};
