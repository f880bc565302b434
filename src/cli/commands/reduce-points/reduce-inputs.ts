import { openFixes } from '../../../files/reduction/open-fixes.js';
import type { FixInputSettings, OpenedFixes } from '../../../files/reduction/open-fixes.js';
import type { RawOf } from '../../../io/tables/fixes/fixes-read.js';
import { errorProblem } from '../../../records/problem.js';
import { flagOption } from '../../shell/command-spec.js';
import type { Rejects } from '../../outputs/rejects.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import type { Workbench } from '../../shell/workbench.js';
import { blocksInOrder, isApart } from './blocks/open-block-stage.js';
import type { BlockStageParts } from './blocks/open-block-stage.js';
import { overruledOptions } from './options/overruled-options.js';
import { remapping } from './options/pass-through.js';
import type { PreparedRun } from './prepare-run.js';
import type { ReductionFlow } from './reduction-flow.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';
import { rejectLate } from './say/reject-late.js';

/** Fixes are reduced so many at a time, and what they gave is written once it fills this many bytes. */
const BATCH = 500;
const FULL = 1 << 18;

/** What the inputs are read with and written to. */
export interface InputStage {
  readonly run: PreparedRun;
  readonly flow: ReductionFlow;
  readonly outputs: ReductionOutputs;
  readonly rejects: Rejects;
  readonly settings: FixInputSettings;
  /** The first input, where it has been opened already. */
  readonly first: OpenedFixes | null;
  /** The columns that pass through. */
  readonly names: readonly string[];
}

/** Reads every input to its end and reduces it. Returned: whether any row was refused. Stops for a file named twice. */
export async function reduceInputs(bench: Workbench, log: RunLog, stage: InputStage): Promise<boolean> {
  const { run, flow, rejects, settings, first, names } = stage;
  const { diagnostics, invocation } = bench;
  const seen = new Map<string, string>();
  let recent: RawOf[] = [];
  let failed = false;
  for (const [sourceIndex, path] of run.paths.entries()) {
    const opened =
      sourceIndex === 0 && first !== null
        ? first
        : bench.take(await openFixes(path, sourceIndex, settings, bench.context));
    diagnostics.report(overruledOptions(opened, invocation));
    await rejects.start(flagOption(invocation, 'omitHeader') ? null : opened.input.headerRaw);
    flow.remaps[sourceIndex] = remapping(opened, names);
    const read = await reduceInput(bench, stage, opened, recent);
    recent = read.recent;
    failed ||= read.bad > 0;
    const { sha256 } = opened.source.digest();
    const twin = seen.get(sha256);
    if (twin !== undefined)
      throw new StopError([
        errorProblem('input-repeated', {
          message: `${opened.source.name} has the same bytes as ${twin}`,
          where: { source: opened.source.name },
          hint: 'name each file once: its epochs would count twice',
        }),
      ]);
    seen.set(sha256, opened.source.name);
    const { share } = run;
    log.input(
      opened.source,
      opened.kind,
      read.rows - read.bad,
      read.bad,
      share === null ? null : bench.take(share.part()),
    );
  }
  flow.reducer.finish();
  await rejectLate(flow.takeLate(), recent, rejects);
  return failed || flow.hasFailed();
}

interface ReadInput {
  readonly rows: number;
  readonly bad: number;
  /** The blocks that the occupation which has not ended reaches back to. */
  readonly recent: RawOf[];
}

async function reduceInput(
  bench: Workbench,
  { run: { share, paths, resolved, setup }, flow, outputs: { points }, rejects }: InputStage,
  opened: OpenedFixes,
  before: RawOf[],
): Promise<ReadInput> {
  const { diagnostics } = bench;
  const { reducer, flush, columns, csv, counter, keeper, totals } = flow;
  let recent = before;
  let rows = 0;
  let bad = 0;
  const onRows = (count: number): void => {
    rows += count;
    bench.progress.update(`${opened.source.name}: ${rows} rows`);
  };
  const parts: BlockStageParts | null =
    points === null || share !== null || !isApart(bench, paths.length)
      ? null
      : { bench, resolved, setup, columns, csv, points, counter, keeper, totals, onRows };
  for await (const item of share === null ? await blocksInOrder(opened, parts) : share.blocks(opened)) {
    bench.breathe();
    const taken = bench.take(item);
    const block = share === null ? taken : share.own(taken);
    rows += block.fixes.length + block.rejected.length;
    diagnostics.report(block.warnings);
    for (const row of block.rejected) diagnostics.report(row.problems);
    if (block.rejected.length > 0) {
      bad += block.rejected.length;
      await rejects.add(block.rejected);
    }
    if (rejects.isAsked && recent.at(-1) !== block.rawOf) recent.push(block.rawOf);
    for (let i = 0; i < block.fixes.length; i += BATCH) {
      reducer.push(block.fixes.length <= BATCH ? block.fixes : block.fixes.slice(i, i + BATCH));
      await flush(FULL);
    }
    bad += await rejectLate(flow.takeLate(), recent, rejects);
    // Rows may still be refused as far back as the occupation begins that has not ended.
    const open = reducer.firstOpen();
    if (open === null) recent = [];
    else if (rejects.isAsked && block.fixes.includes(open)) recent = [block.rawOf];
    bench.progress.update(`${opened.source.name}: ${rows} rows`);
  }
  return { rows: share === null ? rows : share.rows(), bad, recent };
}
