import { readRunRecord } from '../../io/run-record-read.js';
import { openSource } from '../../io/source.js';
import { wholeText } from '../../io/whole-text.js';
import type { FinishedRun } from '../../records/finished-run.js';
import { mergeRecords } from '../../tasks/merge-records.js';
import { textOption } from '../command-spec.js';
import type { CommandRun } from '../command-spec.js';
import { inputPaths } from '../fix-inputs.js';
import { withWorkbench } from '../workbench.js';

/** A record is some kilobytes; this is none. */
const LARGEST_BYTES = 16 << 20;

/** Adds run records up; see `mergeRecordsSpec`. */
export const runMergeRecords: CommandRun = (invocation, context) =>
  withWorkbench(invocation, context, inputPaths(invocation.args, context.cwd), async (bench) => {
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    const runs: FinishedRun[] = [];
    for (const path of invocation.args) {
      const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin }));
      runs.push(bench.take(readRunRecord(bench.take(await wholeText(source, LARGEST_BYTES)), source.name)));
    }
    const merged = bench.take(mergeRecords(runs, context.argv));
    await sink.write(`${JSON.stringify(merged.record, null, 2)}\n`);
    bench.diagnostics.say(`${merged.parts} parts, ${merged.rowsRead} rows: ${merged.exitCode === 0 ? 'within' : 'no'}`);
    return { exit: merged.exitCode, record: null };
  });
