import { Buffer } from 'node:buffer';
import type { Writable } from 'node:stream';
import { success } from '../../../records/outcome.js';
import { fileErrorCode, writeFailed } from '../file-error.js';
import type { Sink } from './sink.js';
import { createTempFile, tempFileChunks } from './temp-file.js';
import type { TempFile } from './temp-file.js';

/** What a spool needs to know. */
export interface SpoolOptions {
  readonly name: string;
  readonly key: string;
  readonly tempDir: string;
  readonly spoolBytes: number | undefined;
  /** Opened only on commit. */
  readonly destination: () => Writable;
  /** A device or named pipe is closed after it; standard output is not. */
  readonly isClosedAfter: boolean;
}

const DEFAULT_SPOOL_BYTES = 4 << 20;

/**
 * An output that cannot be renamed into place: standard output, a device or a named pipe. It is held back in memory,
 * then in a temporary file, until it is committed, so that a run that fails prints nothing.
 */
export function createSpool(options: SpoolOptions): Sink {
  const { name, key } = options;
  const limit = options.spoolBytes ?? DEFAULT_SPOOL_BYTES;
  let held: Buffer[] = [];
  let heldBytes = 0;
  let waiting: string[] = [];
  let waitingLength = 0;
  let temp: TempFile | null = null;
  let failed: unknown = null;

  function settle(): void {
    if (waitingLength === 0) return;
    const bytes = Buffer.from(waiting.join(''), 'utf8');
    waiting = [];
    waitingLength = 0;
    held.push(bytes);
    heldBytes += bytes.length;
  }

  async function spill(): Promise<void> {
    if (failed !== null) return;
    try {
      temp ??= await createTempFile(options.tempDir, 'output', 0o600);
      for (const bytes of held) await temp.write(bytes);
    } catch (error) {
      failed = error;
    }
    held = [];
    heldBytes = 0;
  }

  async function abort(): Promise<void> {
    held = [];
    waiting = [];
    await temp?.remove();
    temp = null;
  }

  return {
    name,
    key,
    abort,
    async write(content) {
      if (failed !== null) return;
      if (typeof content === 'string') {
        waiting.push(content);
        waitingLength += content.length;
        if (waitingLength < 1 << 17) return;
        settle();
      } else {
        settle();
        held.push(Buffer.from(content));
        heldBytes += content.length;
      }
      if (heldBytes > limit) await spill();
    },
    async rewrite(change) {
      settle();
      if (failed !== null) return;
      const old = { temp, held };
      temp = null;
      held = [];
      heldBytes = 0;
      try {
        for await (const piece of change({ [Symbol.asyncIterator]: () => contentsOf(old.temp, old.held) })) {
          held.push(Buffer.from(piece));
          heldBytes += piece.length;
          if (heldBytes > limit) await spill();
        }
      } finally {
        await old.temp?.remove();
      }
    },
    async finish() {
      settle();
      if (temp !== null && heldBytes > 0) await spill();
      if (failed === null) return success(null);
      await abort();
      return writeFailed(name, failed);
    },
    async commit() {
      const stream = options.destination();
      // A write that fails tells its own callback; without a listener the same error would end the process.
      stream.on('error', ignore);
      try {
        for await (const chunk of contentsOf(temp, held)) await writeChunk(stream, chunk);
        if (options.isClosedAfter) await closeStream(stream);
        return success('written');
      } catch (error) {
        return isPipeClosed(error) ? success('stopped') : writeFailed(name, error);
      } finally {
        await abort();
      }
    },
  };
}

async function* contentsOf(temp: TempFile | null, held: readonly Buffer[]): AsyncGenerator<Buffer> {
  if (temp !== null) yield* tempFileChunks(temp);
  yield* held;
}

function ignore(): void {
  // Handled by the write that caused it.
}

function isPipeClosed(error: unknown): boolean {
  const code = fileErrorCode(error);
  return code === 'EPIPE' || code === 'EOF' || code === 'ERR_STREAM_DESTROYED';
}

async function writeChunk(stream: Writable, chunk: Buffer): Promise<void> {
  await new Promise<void>((done, fail) => {
    stream.write(chunk, (error) => {
      if (error instanceof Error) fail(error);
      else done();
    });
  });
}

async function closeStream(stream: Writable): Promise<void> {
  await new Promise<void>((done, fail) => {
    stream.once('error', fail);
    stream.end(done);
  });
}
