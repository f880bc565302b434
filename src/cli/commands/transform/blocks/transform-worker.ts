import process from 'node:process';
import { parentPort, workerData } from 'node:worker_threads';
import { READY } from '../../../../io/host/thread-pool.js';
import { readPlaceRows } from '../../../../io/tables/points/place-rows-read.js';
import { InternalError } from '../../../../records/internal-error.js';
import type { Outcome } from '../../../../records/outcome.js';
import { createTransformRun } from '../../../../tasks/transform/transform-run.js';
import { tableOptions } from '../../../inputs/table-options.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { loadTransform } from '../options/load-transform.js';
import { bytePlaceWriter } from '../place-writer.js';
import { readOptions } from '../read-options.js';
import { transformTable } from '../say/transform-table.js';
import { createQuietBlock } from './quiet-blocks.js';
import type { QuietBlock } from './quiet-blocks.js';
import { roomFor, sharedBlock } from './quiet-threads.js';
import type { ThreadAnswer, ThreadQuestion, ThreadStart } from './quiet-threads.js';

/** What the run has loaded before, with all its messages, so that a failure here is not the user's. */
function again<T>(loaded: Outcome<T>): T {
  if (!loaded.ok)
    throw new InternalError(
      `a worker could not load what the run had loaded: ${loaded.problems.map(({ message }) => message).join('; ')}`,
    );
  return loaded.value;
}

async function quietBlockOf({ invocation, cwd, head }: ThreadStart): Promise<QuietBlock> {
  const context = { cwd, stdin: process.stdin, signal: new AbortController().signal };
  const { planned } = again(await loadTransform(invocation, context, false));
  const tables = again(tableOptions(invocation, null));
  const table = { ...head, headerRaw: null, blocks: noBlocks, byteBlocks: noBlocks };
  const input = again(readPlaceRows(table, readOptions(planned, tables)));
  const writer = bytePlaceWriter(transformTable(planned, input, 'csv', 'degrees'), csvWriteOptions(invocation));
  const quiet =
    writer === null ? null : createQuietBlock(input.bytes?.plainOf ?? null, createTransformRun(planned), writer);
  if (quiet === null) throw new InternalError('a worker could not carry blocks that the run had carried');
  return quiet;
}

async function* noBlocks(): AsyncGenerator<never> {
  // They come from the other thread.
}

/** A thread of `quietThreads`: it loads the transformation once and answers each block with its rows. */
async function serve(start: ThreadStart): Promise<void> {
  const carry = await quietBlockOf(start);
  parentPort?.on('message', (question: ThreadQuestion) => {
    const written = carry(sharedBlock(question));
    const answer: ThreadAnswer | null =
      written === null
        ? null
        : { count: written.rows, bytes: written.bytes.length, rows: roomFor(written.bytes, question.rows) };
    parentPort?.postMessage(answer);
  });
  parentPort?.postMessage(READY);
}

// Not awaited at the top: the script of a thread may be no module (`tools/package.mjs`). What fails ends the thread with its error.
void serve(workerData as ThreadStart);
