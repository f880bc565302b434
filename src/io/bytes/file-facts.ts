import type { Stats } from 'node:fs';
import { inputRegistry } from './input-registry.js';
import type { Source } from './source.js';

/** A file's own number and the time of its last change, of the epoch of the system in milliseconds. */
export interface FileVersion {
  readonly inode: number;
  readonly modifiedMs: number;
}

/** Size and version of what is a file. */
export function fileOf(stats: Stats | null): Pick<Source, 'size' | 'version'> {
  if (stats?.isFile() !== true) return { size: null, version: null };
  return { size: stats.size, version: { inode: stats.ino, modifiedMs: stats.mtimeMs } };
}

/** The digest of a file that was read to its end, told to the registry of the run. */
export function digestTold(path: string | null, bytes: number, sha256: string): string {
  if (path !== null) inputRegistry()?.digested(path, { bytes, sha256 });
  return sha256;
}
