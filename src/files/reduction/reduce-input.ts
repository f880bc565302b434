import type { FixBlock, RawOf } from '../../io/tables/fixes/fixes-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { JobEdits } from '../../tasks/job/job-edits.js';
import { renamedFixes } from '../../tasks/job/renamed-fixes.js';
import type { DayFlow } from './day-flow.js';
import type { ReductionFlow } from './reduction-flow.js';
import { rejectLate } from './reject-late.js';
import type { RefusedRows } from './reject-late.js';

/** Fixes are reduced so many at a time, and what they gave is written once it fills this many bytes. */
const BATCH = 500;
const FULL = 1 << 18;

/** What hears of the rows of an input. */
export interface InputListener {
  /** Before each block: throws where the run has to end. */
  readonly breathe: () => void;
  readonly report: (problems: readonly Problem[]) => void;
  /** Rows read since this was last told. */
  readonly onRows: (count: number) => void;
  readonly rejects: RefusedRows;
  /** The rows of a block that are reduced here, where others are reduced elsewhere. */
  readonly own: (block: FixBlock) => FixBlock;
}

/** An input that was read to its end. */
export interface ReducedInput {
  /** Rows that were refused, also those of the input before that the reduction refused late. */
  readonly bad: number;
  /** The blocks that the occupation which has not ended reaches back to. */
  readonly recent: readonly RawOf[];
}

/**
 * Reduces the blocks of one input in their order.
 *
 * Given: the blocks; the flow of the run and of the day; what the job renames; the blocks that an occupation reaches back to which
 * began in the input before. Problems: those of reading; rows that are refused are told to the listener.
 */
export async function reduceInput(
  blocks: AsyncIterable<Outcome<FixBlock>>,
  { flow, day, edits }: { readonly flow: ReductionFlow; readonly day: DayFlow; readonly edits: JobEdits | null },
  before: readonly RawOf[],
  { breathe, report, onRows, rejects, own }: InputListener,
): Promise<Outcome<ReducedInput>> {
  const { flush } = flow;
  const { reducer, id } = day;
  let recent: RawOf[] = [...before];
  let bad = 0;
  for await (const item of blocks) {
    breathe();
    if (!item.ok) return item;
    report(item.problems);
    const block = own(item.value);
    const fixes = id === null || edits === null ? block.fixes : renamedFixes(block.fixes, edits, id);
    report(block.warnings);
    for (const row of block.rejected) report(row.problems);
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
    onRows(fixes.length + block.rejected.length);
  }
  return success({ bad, recent });
}
