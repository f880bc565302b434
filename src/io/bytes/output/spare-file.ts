import { randomBytes } from 'node:crypto';
import { closeSync, openSync, readSync, unlinkSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { InternalError } from '../../../records/internal-error.js';

/** Room on the disk for what would fill memory, read again by where it stands. */
export interface SpareFile {
  /** Lays bytes by. Returned: where they stand; null: the system gives no room for them. */
  readonly put: (bytes: Uint8Array) => number | null;
  /** Fills `into` with what stands at a place. Throws what the operating system says. */
  readonly get: (at: number, into: Uint8Array) => void;
  /** Closes it; what was laid by is gone. */
  readonly close: () => void;
}

/** A file in the system's folder for such, made when the first bytes come, under a name that is taken away at once: it ends with the run, however that ends. */
export function createSpareFile(folder: string = tmpdir()): SpareFile {
  const path = join(folder, `.pegbook.${randomBytes(6).toString('hex')}.tmp`);
  let file: number | null = null;
  let isRefused = false;
  let end = 0;
  let hasName = false;

  function removeName(): void {
    try {
      unlinkSync(path);
      hasName = false;
    } catch {
      // A system that lets no open file lose its name: it loses it when it is closed.
    }
  }

  function opened(): number {
    if (file !== null) return file;
    file = openSync(path, 'wx+', 0o600);
    hasName = true;
    removeName();
    return file;
  }

  return {
    put(bytes) {
      if (isRefused) return null;
      const at = end;
      try {
        for (let done = 0; done < bytes.length;)
          done += writeSync(opened(), bytes, done, bytes.length - done, at + done);
      } catch {
        // No space, or no leave to write: what was laid by stays readable.
        isRefused = true;
        return null;
      }
      end += bytes.length;
      return at;
    },
    get(at, into) {
      for (let done = 0; done < into.length;) {
        const read = file === null ? 0 : readSync(file, into, done, into.length - done, at + done);
        if (read === 0) throw new InternalError('a read beyond what was laid by');
        done += read;
      }
    },
    close() {
      if (file !== null) closeSync(file);
      if (hasName) removeName();
      file = null;
      isRefused = true;
    },
  };
}
