import { Buffer } from 'node:buffer';
import { open } from 'node:fs/promises';

/** How every line of a file of problems begins. */
const BEGINNING = /^\{"code":"[a-z0-9-]+","severity":"(?:error|warning|note)"/u;
const LOOKED_AT_BYTES = 256;

/** Whether a file is one of --problems, or empty. It is looked at, and does not become an input. Given: its path. */
export async function isProblemFile(path: string): Promise<boolean> {
  try {
    const handle = await open(path, 'r');
    try {
      const { bytesRead, buffer } = await handle.read(Buffer.alloc(LOOKED_AT_BYTES), 0, LOOKED_AT_BYTES, 0);
      return bytesRead === 0 || BEGINNING.test(buffer.toString('utf8', 0, bytesRead));
    } finally {
      await handle.close();
    }
  } catch {
    return false;
  }
}
