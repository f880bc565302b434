import { Worker } from 'node:worker_threads';
import { InternalError } from '../../records/internal-error.js';
import { fileErrorCode } from '../bytes/file-error.js';

/** What a thread is asked, and the memory that goes with it. */
export interface ThreadTask<Question> {
  readonly question: Question;
  /** Memory that goes over to the thread; what is shared need not. */
  readonly moved: readonly ArrayBuffer[];
}

/** Threads that answer questions, each in the order it was asked. */
export interface ThreadPool<Question, Answer> {
  /**
   * Hands a question to the thread that has least to do; null, and none is made, where every one has enough or is still starting.
   * Rejects when the thread ends before it has answered.
   */
  readonly ask: (make: () => ThreadTask<Question>) => Promise<Answer> | null;
  readonly close: () => Promise<void>;
}

/** What a thread says first, once it has loaded everything. */
export const READY = 'ready';

/** What a thread runs: a script, or its text where the program is one file. */
export type ThreadScript = URL | { readonly text: string };

/** Questions that wait for a thread at most: one more than it works on, so that it need not wait. */
const MOST_ASKED = 2;

/** Young memory of a thread: what it makes dies with each row, and a thread needs no more room for it than this. */
const YOUNG_MB = 6;
/** Far more than a block needs; stating a bound makes the engine clear memory earlier (15 MB less a thread, measured). */
const OLD_MB = 512;
/** Address space reserved for compiled code, of which a thread fills a few megabytes; the engine would reserve 128. */
const CODE_MB = 32;

/** Starts so many threads, or as many as the system allows. `start` is what each is given. */
export function createThreadPool<Question, Answer>(
  count: number,
  start: unknown,
  script: ThreadScript,
): ThreadPool<Question, Answer> {
  const threads = Array.from({ length: count }, () => startThread<Question, Answer>(start, script)).filter(
    (thread) => thread !== null,
  );
  return {
    ask(make) {
      let idlest: Thread<Question, Answer> | null = null;
      for (const thread of threads) if (thread.waiting() < (idlest?.waiting() ?? MOST_ASKED)) idlest = thread;
      return idlest?.ask(make()) ?? null;
    },
    async close() {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}

interface Thread<Question, Answer> {
  /** Questions not yet answered; infinitely many while it starts. */
  readonly waiting: () => number;
  readonly ask: (task: ThreadTask<Question>) => Promise<Answer>;
  readonly close: () => Promise<void>;
}

interface Asked<Answer> {
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: Error) => void;
}

function startThread<Question, Answer>(start: unknown, script: ThreadScript): Thread<Question, Answer> | null {
  const worker = startWorker(script, start);
  if (worker === null) return null;
  const asked: Asked<Answer>[] = [];
  let isReady = false;
  let ended: Error | null = null;
  const end = (error: Error): void => {
    ended ??= error;
    for (const { reject } of asked.splice(0)) reject(ended);
  };
  worker.on('message', (answer: Answer | typeof READY) => {
    if (answer === READY) isReady = true;
    else asked.shift()?.resolve(answer);
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
    ask({ question, moved }) {
      return new Promise((resolve, reject) => {
        if (ended !== null) {
          reject(ended);
          return;
        }
        asked.push({ resolve, reject });
        worker.postMessage(question, moved);
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
function startWorker(script: ThreadScript, start: unknown): Worker | null {
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
