import { parentPort, workerData } from 'node:worker_threads';
import { InternalError } from '../../records/internal-error.js';
import { loadReductionSetup } from '../commands/reduction-setup-load.js';
import type { WorkerStart } from './block-pool.js';
import { createBlockReducer } from './reduce-block.js';
import type { BlockBytes } from './reduce-block.js';

// A thread of `createBlockPool`: it loads the setup once and answers each block with its rows. The main thread has
// loaded the same setup before, with all its messages, so that a failure here is not the user's.
const { resolved, sources, geoidGrid, job } = workerData as WorkerStart;
const setup = await loadReductionSetup(resolved, sources, geoidGrid);
if (!setup.ok) throw new InternalError(`a worker could not load what the run had loaded: ${setup.problems.map(({ message }) => message).join('; ')}`);
const made = createBlockReducer(setup.value, job);
if (!made.ok) throw new InternalError('a worker could not find the columns that the run had found');
const reduceBlock = made.value;

parentPort?.on('message', (block: BlockBytes) => {
  const rows = reduceBlock(block);
  if (rows === null) parentPort?.postMessage(null);
  else parentPort?.postMessage(rows, [rows.points.buffer as ArrayBuffer, rows.occupationAt.buffer as ArrayBuffer, rows.hashes.buffer as ArrayBuffer]);
});
