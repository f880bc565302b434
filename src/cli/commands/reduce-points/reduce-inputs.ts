import { openFixes } from '../../../files/reduction/open-fixes.js';
import type { OpenedFixes } from '../../../files/reduction/open-fixes.js';
import type { DayFlow } from '../../../files/reduction/day-flow.js';
import { remapping } from '../../../files/reduction/pass-through.js';
import { reduceInput } from '../../../files/reduction/reduce-input.js';
import type { ReducedInput } from '../../../files/reduction/reduce-input.js';
import type { createInputCheck } from '../../../files/reduction/repeated-input.js';
import { rejectLate } from '../../../files/reduction/reject-late.js';
import { flagOption } from '../../shell/command-spec.js';
import type { Rejects } from '../../outputs/rejects.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { blocksToReduce } from './blocks/blocks-to-reduce.js';
import type { OpenedRun } from './open-run.js';
import { overruledOptions } from './options/overruled-options.js';
import type { PreparedRun } from './prepare-run.js';

/** What the inputs of a run are read with and written to. */
export interface InputStage extends Pick<OpenedRun, 'flow' | 'outputs' | 'first' | 'names'> {
  readonly run: PreparedRun;
  readonly rejects: Rejects;
  readonly checkInput: ReturnType<typeof createInputCheck>;
}

/** Reads every input of a day to its end and reduces it. Returned: whether any row was refused. Stops for a file named twice. */
export async function reduceInputs(
  bench: Workbench,
  log: RunLog,
  stage: InputStage,
  { day, settings }: OpenedRun['readDays'][number],
  own: DayFlow,
): Promise<boolean> {
  const { run, flow, rejects, first, names } = stage;
  let recent: ReducedInput['recent'] = [];
  let failed = false;
  for (const [index, path] of day.paths.entries()) {
    const sourceIndex = day.firstSource + index;
    const opened =
      sourceIndex === 0 && first !== null
        ? first
        : bench.take(await openFixes(path, sourceIndex, settings, day.surroundings));
    bench.diagnostics.report(overruledOptions(opened, bench.invocation));
    await rejects.start(flagOption(bench.invocation, 'omitHeader') ? null : opened.input.headerRaw);
    flow.remaps[sourceIndex] = remapping(opened, names);
    const read = await reduceOne(bench, stage, { day, own, opened, before: recent });
    recent = read.recent;
    failed ||= read.bad > 0;
    bench.take(stage.checkInput(opened.source));
    const { share } = run;
    const part = share === null ? null : bench.take(share.part());
    log.input(opened.source, opened.kind, read.rows - read.bad, read.bad, part);
  }
  own.reducer.finish();
  await rejectLate(flow.takeLate(), recent, rejects);
  return failed || flow.hasFailed();
}

interface OpenedDay {
  readonly day: OpenedRun['readDays'][number]['day'];
  readonly own: DayFlow;
  readonly opened: OpenedFixes;
  readonly before: ReducedInput['recent'];
}

async function reduceOne(
  bench: Workbench,
  stage: InputStage,
  { day, own, opened, before }: OpenedDay,
): Promise<ReducedInput & { readonly rows: number }> {
  const { share, edits } = stage.run;
  let rows = 0;
  const onRows = (count: number): void => {
    rows += count;
    bench.progress.update(`${opened.source.name}: ${rows} rows`);
  };
  const blocks = await blocksToReduce(bench, stage, { day, own, opened, onRows });
  const read = bench.take(
    await reduceInput(blocks, { flow: stage.flow, day: own, edits }, before, {
      breathe: bench.breathe,
      report: (problems) => {
        bench.diagnostics.report(problems);
      },
      onRows,
      rejects: stage.rejects,
      own: share === null ? (block) => block : share.own,
    }),
  );
  return { ...read, rows: share === null ? rows : share.rows() };
}
