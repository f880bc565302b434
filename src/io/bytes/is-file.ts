import { stat } from 'node:fs/promises';

/** Whether a file lies there that could be read: no folder, and not nothing. */
export async function isFile(path: string): Promise<boolean> {
  const found = await stat(path).catch(() => null);
  return found !== null && !found.isDirectory();
}
