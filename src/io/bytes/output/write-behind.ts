import { Buffer } from 'node:buffer';
import type { FileHandle } from 'node:fs/promises';

/** Bytes gathered before they are handed to the system: large enough that a write costs little beside the bytes. */
const GATHERED_BYTES = 1 << 18;

/** The end of a file, written by the system while more is made. */
export interface WriteBehind {
  /** Takes the bytes, which may be used for something else afterwards. Throws what the system says of this write or of one before. */
  readonly write: (bytes: Uint8Array) => Promise<void>;
  /** All that was taken is with the system. Throws as `write`. */
  readonly flush: () => Promise<void>;
}

/** Two pieces of memory by turns: one is filled while the other is written. */
export function createWriteBehind(handle: FileHandle): WriteBehind {
  let filling: Buffer | null = null;
  let length = 0;
  let spare: Buffer | null = null;
  let underWay: Promise<void> | null = null;

  async function handOver(): Promise<void> {
    // Not forgotten where it failed: whatever comes after fails with it.
    await underWay;
    if (filling === null || length === 0) return;
    const full = filling;
    const written = writeAll(handle, full, length);
    // One that fails while nobody waits for it yet is met by the next.
    written.catch(() => undefined);
    underWay = written;
    filling = spare;
    spare = full;
    length = 0;
  }

  return {
    async write(bytes) {
      for (let at = 0; at < bytes.length;) {
        filling ??= Buffer.allocUnsafeSlow(GATHERED_BYTES);
        const taken = Math.min(bytes.length - at, GATHERED_BYTES - length);
        filling.set(taken === bytes.length ? bytes : bytes.subarray(at, at + taken), length);
        length += taken;
        at += taken;
        if (length === GATHERED_BYTES) await handOver();
      }
    },
    async flush() {
      await handOver();
      await underWay;
    },
  };
}

async function writeAll(handle: FileHandle, bytes: Uint8Array, length: number): Promise<void> {
  for (let at = 0; at < length;) at += (await handle.write(bytes, at, length - at, null)).bytesWritten;
}
