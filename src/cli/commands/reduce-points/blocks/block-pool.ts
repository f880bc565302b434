import { Buffer } from 'node:buffer';
import type { GeoidGrid } from '../../../../core/geoid/geoid-grid.js';
import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import { PROGRAM_FILES } from '../../../../io/host/program-files.js';
import { createThreadPool } from '../../../../io/host/thread-pool.js';
import type { ThreadScript } from '../../../../io/host/thread-pool.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import type { BlockMemories } from './block-rooms.js';
import { rowsBytes } from './reduce-block.js';
import type { BlockBytes, BlockJob, BlockMemory, BlockRows } from './reduce-block.js';
import type { ReducedBlock } from './reduce-in-blocks.js';

/** What a worker starts from. */
export interface WorkerStart {
  readonly resolved: ResolvedSession;
  readonly sources: readonly string[];
  /** Shared between the threads. */
  readonly geoidGrid: GeoidGrid | null;
  readonly job: BlockJob;
}

/** What a worker is asked: a block, and where its rows may go. */
export interface WorkerQuestion {
  readonly block: BlockBytes;
  readonly memory: BlockMemory;
}

/** What a worker says of each block: its rows, and the block back. */
export interface WorkerAnswer {
  readonly rows: BlockRows | null;
  readonly block: BlockBytes;
}

/** Threads that reduce blocks. */
export interface BlockPool {
  /** Hands a block to the thread that has least to do; null where every one has enough, or is still starting. Its memory goes with it and comes back with the answer. Rejects when the thread ends before that. */
  readonly ask: (block: ByteBlock) => Promise<ReducedBlock> | null;
  readonly close: () => Promise<void>;
}

const SCRIPT: ThreadScript = PROGRAM_FILES.isPacked
  ? { text: PROGRAM_FILES.built('reduce-worker.cjs').toString('utf8') }
  : new URL('./reduce-worker.js', import.meta.url);

/** Starts so many threads, or as many as the system allows. The rows they give stand in memory from `memories`. */
export function createBlockPool(
  count: number,
  start: WorkerStart,
  memories: BlockMemories,
  script: ThreadScript = SCRIPT,
): BlockPool {
  const pool = createThreadPool<WorkerQuestion, WorkerAnswer>(count, start, script);
  return {
    ask(block) {
      const asked = pool.ask(() => {
        const { bytes, firstLine } = block;
        const memory = memories.take(rowsBytes(block));
        return {
          question: { block: { bytes, firstLine }, memory },
          moved: [bytes.buffer as ArrayBuffer, memory.rows, memory.tables],
        };
      });
      return asked?.then(reducedBlock) ?? null;
    },
    close: pool.close,
  };
}

function reducedBlock({ rows, block }: WorkerAnswer): ReducedBlock {
  const bytes = Buffer.from(block.bytes.buffer, block.bytes.byteOffset, block.bytes.byteLength);
  return { rows, block: { bytes, firstLine: block.firstLine, hasQuote: false } };
}
