import { openFixes } from '../../../files/reduction/open-fixes.js';
import type { OpenedFixes } from '../../../files/reduction/open-fixes.js';
import type { DayFlow } from '../../../files/reduction/day-flow.js';
import type { ReductionFlow } from '../../../files/reduction/reduction-flow.js';
import type { RawOf } from '../../../io/tables/fixes/fixes-read.js';
import type { Fix } from '../../../records/points/fix.js';
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
import type { ReadDay } from './options/pass-through.js';
import type { PreparedRun } from './prepare-run.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';
import { rejectLate } from './say/reject-late.js';

/** Fixes are reduced so many at a time, and what they gave is written once it fills this many bytes. */
const BATCH = 500;
const FULL = 1 << 18;

/** What the inputs of a run are read with and written to. */
export interface InputStage {
  readonly run: PreparedRun;
  readonly flow: ReductionFlow;
  readonly outputs: ReductionOutputs;
  readonly rejects: Rejects;
  /** The first input, where it has been opened already. */
  readonly first: OpenedFixes | null;
  /** The columns that pass through. */
  readonly names: readonly string[];
  /** Names of the inputs read so far, by their digests. */
  readonly seen: Map<string, string>;
}

/** Reads every input of a day to its end and reduces it. Returned: whether any row was refused. Stops for a file named twice. */
export async function reduceInputs(
  bench: Workbench,
  log: RunLog,
  stage: InputStage,
  { day, settings }: ReadDay,
  own: DayFlow,
): Promise<boolean> {
  const { run, flow, rejects, first, names, seen } = stage;
  const { diagnostics, invocation } = bench;
  let recent: RawOf[] = [];
  let failed = false;
  for (const [index, path] of day.paths.entries()) {
    const sourceIndex = day.firstSource + index;
    const opened =
      sourceIndex === 0 && first !== null
        ? first
        : bench.take(await openFixes(path, sourceIndex, settings, day.surroundings));
    diagnostics.report(overruledOptions(opened, invocation));
    await rejects.start(flagOption(invocation, 'omitHeader') ? null : opened.input.headerRaw);
    flow.remaps[sourceIndex] = remapping(opened, names);
    const read = await reduceInput(bench, stage, { day, own, opened, before: recent });
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
  own.reducer.finish();
  await rejectLate(flow.takeLate(), recent, rejects);
  return failed || flow.hasFailed();
}

interface OpenedDay {
  readonly day: ReadDay['day'];
  readonly own: DayFlow;
  readonly opened: OpenedFixes;
  readonly before: RawOf[];
}

interface ReadInput {
  readonly rows: number;
  readonly bad: number;
  /** The blocks that the occupation which has not ended reaches back to. */
  readonly recent: RawOf[];
}

async function reduceInput(
  bench: Workbench,
  { run: { share, edits, sources }, flow, outputs: { points }, rejects }: InputStage,
  { day, own, opened, before }: OpenedDay,
): Promise<ReadInput> {
  const { diagnostics } = bench;
  const { flush, columns, csv } = flow;
  const { reducer, setup, counter, keeper, totals } = own;
  let recent = before;
  let rows = 0;
  let bad = 0;
  const onRows = (count: number): void => {
    rows += count;
    bench.progress.update(`${opened.source.name}: ${rows} rows`);
  };
  const parts: BlockStageParts | null =
    points === null || share !== null || day.id !== null || !isApart(bench, sources.length)
      ? null
      : { bench, resolved: day.resolved, setup, columns, csv, points, counter, keeper, totals, onRows };
  for await (const item of share === null ? await blocksInOrder(opened, parts) : share.blocks(opened)) {
    bench.breathe();
    const taken = bench.take(item);
    const block = share === null ? taken : share.own(taken);
    const fixes = day.id === null || edits === null ? block.fixes : renamed(block.fixes, edits, day.id);
    rows += fixes.length + block.rejected.length;
    diagnostics.report(block.warnings);
    for (const row of block.rejected) diagnostics.report(row.problems);
    if (block.rejected.length > 0) {
      bad += block.rejected.length;
      await rejects.add(block.rejected);
    }
    if (rejects.isAsked && recent.at(-1) !== block.rawOf) recent.push(block.rawOf);
    for (let i = 0; i < fixes.length; i += BATCH) {
      reducer.push(fixes.length <= BATCH ? fixes : fixes.slice(i, i + BATCH));
      await flush(FULL);
    }
    bad += await rejectLate(flow.takeLate(), recent, rejects);
    // Rows may still be refused as far back as the occupation begins that has not ended.
    const open = reducer.firstOpen();
    if (open === null) recent = [];
    else if (rejects.isAsked && fixes.includes(open)) recent = [block.rawOf];
    bench.progress.update(`${opened.source.name}: ${rows} rows`);
  }
  return { rows: share === null ? rows : share.rows(), bad, recent };
}

/** Fixes under the names that the job gives their points. */
function renamed(fixes: readonly Fix[], edits: NonNullable<PreparedRun['edits']>, day: string): readonly Fix[] {
  return fixes.map((fix) => {
    const pointId = edits.nameOf(fix.pointId, day);
    return pointId === fix.pointId ? fix : { ...fix, pointId };
  });
}
