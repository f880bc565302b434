import type { DayFlow } from '../../../../files/reduction/day-flow.js';
import type { OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import type { FixBlock } from '../../../../io/tables/fixes/fixes-read.js';
import type { Outcome } from '../../../../records/outcome.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { RunDay } from '../prepare-run.js';
import type { InputStage } from '../reduce-inputs.js';
import { blocksInOrder, isApart } from './open-block-stage.js';
import type { BlockStageParts } from './open-block-stage.js';

/** An input of a day, and who hears of rows that threads reduced. */
export interface InputOfDay {
  readonly day: RunDay;
  readonly own: DayFlow;
  readonly opened: OpenedFixes;
  readonly onRows: (count: number) => void;
}

/** The blocks of an input that are to be reduced here: all of it, what threads leave, or the part of --rows. */
export async function blocksToReduce(
  bench: Workbench,
  { run: { share, sources }, flow: { columns, csv }, outputs: { points } }: InputStage,
  { day, own: { setup, counter, keeper, totals }, opened, onRows }: InputOfDay,
): Promise<AsyncIterable<Outcome<FixBlock>>> {
  if (share !== null) return share.blocks(opened);
  const parts: BlockStageParts | null =
    points === null || day.id !== null || !isApart(bench, sources.length)
      ? null
      : { bench, resolved: day.resolved, setup, columns, csv, points, counter, keeper, totals, onRows };
  return blocksInOrder(opened, parts);
}
