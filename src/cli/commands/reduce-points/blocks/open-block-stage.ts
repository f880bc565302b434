import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import type { FixBlock } from '../../../../io/tables/fixes/fixes-read.js';
import { DEFAULT_GRID_READING } from '../../../../io/grids/grid-reading.js';
import type { Sink } from '../../../../io/bytes/output/sink.js';
import { WAY } from '../../../../io/host/way.js';
import type { Outcome } from '../../../../records/outcome.js';
import type { OccupationCounter } from '../../../../tasks/reduce/occupations/occupation-counter.js';
import type { RepeatKeeper } from '../../../../tasks/repeats/repeat-keeper.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { isGiven, flagOption, textsGiven } from '../../../shell/command-spec.js';
import { workerCount } from '../../../shell/run/worker-count.js';
import type { OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import type { Workbench } from '../../../shell/workbench.js';
import { isEstimated } from '../options/held-options.js';
import { numberOccupations } from '../options/number-occupations.js';
import { sharedGeoidGrid } from './shared-geoid-grid.js';

/** What the threads' rows need on their way to the output. */
export interface BlockStageParts {
  readonly bench: Workbench;
  readonly resolved: ResolvedSession;
  readonly setup: ReductionSetup;
  readonly columns: readonly string[];
  readonly csv: CsvWriteOptions;
  readonly points: Sink;
  readonly counter: OccupationCounter;
  readonly keeper: RepeatKeeper;
  readonly totals: ReductionTotals;
  /** Told of the rows written. */
  readonly onRows: (rows: number) => void;
}

/**
 * The fixes of an input that are still to be reduced in order. With more than one worker the blocks of the input are
 * first reduced in threads and their rows written, as far as `reduceInBlocks` goes; else that is all of it.
 */
export async function blocksInOrder(
  opened: OpenedFixes,
  parts: BlockStageParts | null,
): Promise<AsyncGenerator<Outcome<FixBlock>>> {
  const { bytes } = opened.input;
  if (parts === null || bytes === null) return opened.input.blocks();
  const { head, mapping, solution } = bytes;
  const { dialect } = head;
  // A stream whose size is not known is taken for a small one.
  const workers = workerCount(parts.bench.invocation, opened.source.size ?? 0);
  const isInBlocks = WAY === 'usual' ? workers > 1 : WAY === 'fast';
  if (!isInBlocks || dialect.comment !== null || dialect.delimiter.charCodeAt(0) > 0x7f) return opened.input.blocks();
  const { bench, resolved, setup, columns, csv, points, counter, keeper, totals, onRows } = parts;
  const [
    { createBlockPool },
    { createBlockMemories, createBlockRooms },
    { createBlockReducer, rowsBytes },
    { reduceInBlocks },
  ] = await Promise.all([
    import('./block-pool.js'),
    import('./block-rooms.js'),
    import('./reduce-block.js'),
    import('./reduce-in-blocks.js'),
  ]);
  const job = { head, mapping, solution, columns, csv };
  const geoidGrid = setup.geoid === null ? null : sharedGeoidGrid(setup.geoid.grid);
  const here = bench.take(createBlockReducer(setup, job));
  const memories = createBlockMemories();
  const pool = createBlockPool(
    workers - 1,
    { resolved: { ...resolved, reading: DEFAULT_GRID_READING }, sources: setup.sources, geoidGrid, job },
    memories,
  );
  let writing: Promise<void> = Promise.resolve();
  try {
    return await reduceInBlocks(bytes, {
      ask: pool.ask,
      memory: createBlockRooms(),
      reduce(block) {
        bench.breathe();
        return here(block, memories.take(rowsBytes(block)));
      },
      depth: 3 * workers,
      async write(rows) {
        bench.breathe();
        const numbered = numberOccupations(rows, counter, keeper);
        memories.giveBackTables(rows.tables);
        totals.addPart(numbered.totals);
        await writing;
        writing = writeAll(numbered.pieces, points).then(() => memories.giveBackRows(rows.points.buffer));
        onRows(rows.rows);
      },
    });
  } finally {
    await writing;
    await pool.close();
  }
}

async function writeAll(pieces: readonly Uint8Array[], points: Sink): Promise<void> {
  for (const piece of pieces) await points.write(piece);
}

/** True where points can be reduced apart from each other: one input, CSV out, and nothing that looks at the working. */
export function isApart(bench: Workbench, inputs: number): boolean {
  const { invocation } = bench;
  const looksOn =
    textsGiven(invocation, ['epochs', 'explain', 'report']).length > 0 || isGiven(invocation, 'navigation');
  return (
    inputs === 1 &&
    bench.format === 'csv' &&
    !looksOn &&
    !flagOption(invocation, 'combine') &&
    !isEstimated(invocation) &&
    !flagOption(invocation, 'spreadsheetSafe')
  );
}
