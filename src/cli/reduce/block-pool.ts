import { Worker } from 'node:worker_threads';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import type { ByteBlock } from '../../io/csv-blocks.js';
import { InternalError } from '../../records/internal-error.js';
import type { ResolvedSession } from '../session-settings.js';
import type { BlockJob, BlockRows } from './reduce-block.js';

/** What a worker starts from. */
export interface WorkerStart {
  readonly resolved: ResolvedSession;
  readonly sources: readonly string[];
  /** Shared between the threads. */
  readonly geoidGrid: GeoidGrid | null;
  readonly job: BlockJob;
}

/** Threads that reduce blocks. */
export interface BlockPool {
  /** Rejects when the thread ends before it answers. */
  readonly reduce: (block: ByteBlock) => Promise<BlockRows | null>;
  readonly close: () => Promise<void>;
}

/** Young memory of a thread: what it makes dies with each row, and a thread needs no more room for it than this. */
const YOUNG_MB = 6;
/** Far more than a block needs; stating a bound makes the engine clear memory earlier (15 MB less a thread, measured). */
const OLD_MB = 512;

interface Asked {
  readonly resolve: (rows: BlockRows | null) => void;
  readonly reject: (error: Error) => void;
}

/** Starts so many threads. Blocks go to them in turn; each answers in the order it was asked. */
export function createBlockPool(count: number, start: WorkerStart): BlockPool {
  const threads = Array.from({ length: count }, () => startThread(start));
  let turn = 0;
  return {
    reduce(block) {
      const thread = threads[turn % count];
      turn += 1;
      if (thread === undefined) throw new InternalError('a pool without threads was asked');
      return thread.ask(block);
    },
    async close() {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}

function startThread(start: WorkerStart): { readonly ask: (block: ByteBlock) => Promise<BlockRows | null>; readonly close: () => Promise<void> } {
  const worker = new Worker(new URL('./reduce-worker.js', import.meta.url), { workerData: start, resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB, maxOldGenerationSizeMb: OLD_MB } });
  const asked: Asked[] = [];
  let ended: Error | null = null;
  const end = (error: Error): void => {
    ended ??= error;
    for (const { reject } of asked.splice(0)) reject(ended);
  };
  worker.on('message', (rows: BlockRows | null) => asked.shift()?.resolve(rows));
  worker.on('error', (error) => {
    end(new InternalError(`a worker failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`));
  });
  worker.on('exit', (code) => {
    end(new InternalError(`a worker ended with ${code} before it answered`));
  });
  return {
    ask(block) {
      return new Promise((resolve, reject) => {
        if (ended !== null) {
          reject(ended);
          return;
        }
        asked.push({ resolve, reject });
        // A copy: the block is kept here until its rows are written, in case it must be reduced again in order.
        const bytes = new Uint8Array(block.bytes);
        worker.postMessage({ bytes, firstLine: block.firstLine }, [bytes.buffer]);
      });
    },
    async close() {
      await worker.terminate();
    },
  };
}
