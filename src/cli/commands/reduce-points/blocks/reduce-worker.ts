import { parentPort, workerData } from 'node:worker_threads';
import { InternalError } from '../../../../records/internal-error.js';
import { loadReductionSetup } from '../../../../files/reduction/setup/load-reduction-setup.js';
import { READY } from '../../../../io/host/thread-pool.js';
import type { WorkerAnswer, WorkerQuestion, WorkerStart } from './block-pool.js';
import { createBlockReducer } from './reduce-block.js';

function answer(said: WorkerAnswer | typeof READY, moved: readonly ArrayBuffer[] = []): void {
  parentPort?.postMessage(said, moved);
}

/**
 * A thread of `createBlockPool`: it loads the setup once and answers each block with its rows. The main thread has
 * loaded the same setup before, with all its messages, so that a failure here is not the user's.
 */
async function serve({ resolved, sources, geoidGrid, job }: WorkerStart): Promise<void> {
  const setup = await loadReductionSetup(resolved, sources, geoidGrid);
  if (!setup.ok)
    throw new InternalError(
      `a worker could not load what the run had loaded: ${setup.problems.map(({ message }) => message).join('; ')}`,
    );
  const made = createBlockReducer(setup.value, job);
  if (!made.ok) throw new InternalError('a worker could not find the columns that the run had found');
  const reduceBlock = made.value;
  parentPort?.on('message', ({ block, memory }: WorkerQuestion) => {
    const rows = reduceBlock(block, memory);
    const bytes = block.bytes.buffer as ArrayBuffer;
    answer({ rows, block }, rows === null ? [bytes] : [bytes, rows.points.buffer, rows.tables]);
  });
  answer(READY);
}

// Not awaited at the top: the script of a thread may be no module (`tools/package.mjs`). What fails ends the thread with its error.
void serve(workerData as WorkerStart);
