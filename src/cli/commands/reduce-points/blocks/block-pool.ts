import { Buffer } from 'node:buffer';
import { Worker } from 'node:worker_threads';
import type { GeoidGrid } from '../../../../core/geoid/geoid-grid.js';
import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import { fileErrorCode } from '../../../../io/bytes/file-error.js';
import { PROGRAM_FILES } from '../../../../io/host/program-files.js';
import { InternalError } from '../../../../records/internal-error.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import type { BlockRooms } from './block-rooms.js';
import { rowsBytes } from './reduce-block.js';
import type { BlockBytes, BlockJob, BlockRows } from './reduce-block.js';
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
  readonly room: ArrayBuffer;
}

/** What a worker says: first that it has loaded everything, then for each block its rows, and the block back. */
export type WorkerAnswer = 'ready' | { readonly rows: BlockRows | null; readonly block: BlockBytes };

/** Threads that reduce blocks. */
export interface BlockPool {
  /** Hands a block to the thread that has least to do; null where every one has enough, or is still starting. Its memory goes with it and comes back with the answer. Rejects when the thread ends before that. */
  readonly ask: (block: ByteBlock) => Promise<ReducedBlock> | null;
  readonly close: () => Promise<void>;
}

/** Blocks that wait for a thread at most: one more than it works on, so that it need not wait. */
const MOST_ASKED = 2;

/** Young memory of a thread: what it makes dies with each row, and a thread needs no more room for it than this. */
const YOUNG_MB = 6;
/** Far more than a block needs; stating a bound makes the engine clear memory earlier (15 MB less a thread, measured). */
const OLD_MB = 512;
/** Address space reserved for compiled code, of which a thread fills a few megabytes; the engine would reserve 128. */
const CODE_MB = 32;

interface Asked {
  readonly resolve: (reduced: ReducedBlock) => void;
  readonly reject: (error: Error) => void;
}

/** What a thread runs: a script, or its text where the program is one file. */
type ThreadScript = URL | { readonly text: string };
const SCRIPT: ThreadScript = PROGRAM_FILES.isPacked
  ? { text: PROGRAM_FILES.built('reduce-worker.cjs').toString('utf8') }
  : new URL('./reduce-worker.js', import.meta.url);

/** Starts so many threads, or as many as the system allows. The rows they give stand in memory from `rooms`. */
export function createBlockPool(
  count: number,
  start: WorkerStart,
  rooms: BlockRooms,
  script: ThreadScript = SCRIPT,
): BlockPool {
  const threads = Array.from({ length: count }, () => startThread(start, rooms, script)).filter(
    (thread) => thread !== null,
  );
  return {
    ask(block) {
      let idlest: Thread | null = null;
      for (const thread of threads) if (thread.waiting() < (idlest?.waiting() ?? MOST_ASKED)) idlest = thread;
      return idlest?.ask(block) ?? null;
    },
    async close() {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}

interface Thread {
  /** Blocks not yet answered; infinitely many while it starts. */
  readonly waiting: () => number;
  readonly ask: (block: ByteBlock) => Promise<ReducedBlock>;
  readonly close: () => Promise<void>;
}

function startThread(start: WorkerStart, rooms: BlockRooms, script: ThreadScript): Thread | null {
  const worker = startWorker(script, start);
  if (worker === null) return null;
  const asked: Asked[] = [];
  let isReady = false;
  let ended: Error | null = null;
  const end = (error: Error): void => {
    ended ??= error;
    for (const { reject } of asked.splice(0)) reject(ended);
  };
  worker.on('message', (answer: WorkerAnswer) => {
    if (answer === 'ready') {
      isReady = true;
      return;
    }
    const { rows, block } = answer;
    asked.shift()?.resolve({
      rows,
      block: {
        bytes: Buffer.from(block.bytes.buffer, block.bytes.byteOffset, block.bytes.byteLength),
        firstLine: block.firstLine,
        hasQuote: false,
      },
    });
  });
  worker.on('error', (error) => {
    end(
      new InternalError(`a worker failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`),
    );
  });
  worker.on('exit', (code) => {
    end(new InternalError(`a worker ended with ${code} before it answered`));
  });
  return {
    // One that ended is asked, and says so.
    waiting: () => (isReady || ended !== null ? asked.length : Number.POSITIVE_INFINITY),
    ask(block) {
      return new Promise((resolve, reject) => {
        if (ended !== null) {
          reject(ended);
          return;
        }
        asked.push({ resolve, reject });
        const { bytes, firstLine } = block;
        const room = rooms.take(rowsBytes(block));
        const question: WorkerQuestion = { block: { bytes, firstLine }, room };
        worker.postMessage(question, [bytes.buffer as ArrayBuffer, room]);
      });
    },
    async close() {
      await worker.terminate();
    },
  };
}

/** The system has no room for a thread, or the engine was told to allow none (`node --permission`). */
const NO_THREAD: ReadonlySet<string> = new Set(['ERR_WORKER_INIT_FAILED', 'ERR_ACCESS_DENIED']);

/** Null where the system allows no more threads: then the others do its work. */
function startWorker(script: ThreadScript, start: WorkerStart): Worker | null {
  try {
    return new Worker('text' in script ? script.text : script, {
      eval: 'text' in script,
      workerData: start,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB, maxOldGenerationSizeMb: OLD_MB, codeRangeSizeMb: CODE_MB },
    });
  } catch (error) {
    if (NO_THREAD.has(fileErrorCode(error))) return null;
    throw error;
  }
}
