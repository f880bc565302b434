import { realpath } from 'node:fs/promises';

/** A path without links, as the system has it; as it is where nothing is there. */
export async function realPathOf(path: string): Promise<string> {
  return realpath(path).catch(() => path);
}
