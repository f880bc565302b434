import { Buffer } from 'node:buffer';
import { randomBytes } from 'node:crypto';
import { open, unlink } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { fileErrorCode } from '../file-error.js';
import { createWriteBehind } from './write-behind.js';

/** A file that no other program has, for writing and reading back. */
export interface TempFile {
  readonly path: string;
  readonly handle: FileHandle;
  /** Takes the bytes; what the system says against them is thrown by this or by what comes after. */
  readonly write: (bytes: Uint8Array) => Promise<void>;
  /** Everything written is with the system. Throws what it says. */
  readonly flush: () => Promise<void>;
  /** Everything written is on the disk, as far as the engine lets that be asked. Throws what the operating system says. */
  readonly sync: () => Promise<void>;
  /** After what was written. */
  readonly close: () => Promise<void>;
  /** Closes and removes it; never fails. */
  readonly remove: () => Promise<void>;
}

/**
 * Creates a file that did not exist before, in `folder`, named after the first characters of `stem`: few enough that
 * the name stays below 255 bytes in any script.
 * Given: its permissions before the user's mask. Throws what the operating system says.
 */
export async function createTempFile(folder: string, stem: string, mode: number): Promise<TempFile> {
  const path = join(folder, `.${stem.slice(0, 60)}.${randomBytes(6).toString('hex')}.tmp`);
  const handle = await open(path, 'wx+', mode);
  const behind = createWriteBehind(handle);
  let isOpen = true;
  async function close(): Promise<void> {
    if (!isOpen) return;
    isOpen = false;
    await handle.close();
  }
  return {
    path,
    handle,
    write: behind.write,
    flush: behind.flush,
    async close() {
      await behind.flush();
      await close();
    },
    async sync() {
      await behind.flush();
      try {
        await handle.sync();
      } catch (error) {
        // Under its permission model the engine may refuse to wait for the disk; the bytes are with the system all the same.
        if (fileErrorCode(error) !== 'ERR_ACCESS_DENIED') throw error;
      }
    },
    async remove() {
      await close().catch(() => undefined);
      await unlink(path).catch(() => undefined);
    },
  };
}

/** Everything in the file from its start, piece by piece. */
export async function* tempFileChunks(file: TempFile): AsyncGenerator<Buffer> {
  await file.flush();
  let position = 0;
  for (;;) {
    const { bytesRead, buffer } = await file.handle.read(Buffer.allocUnsafeSlow(1 << 18), 0, 1 << 18, position);
    if (bytesRead === 0) return;
    position += bytesRead;
    yield buffer.subarray(0, bytesRead);
  }
}
