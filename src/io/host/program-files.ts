import { Buffer } from 'node:buffer';
import { readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { getAsset, isSea } from 'node:sea';
import { builtFile } from '../built-file.js';

/**
 * Files that belong to the program and not to its user. Installed as a package they stand on the disk; where the program is one
 * executable file they are in it, under the same names (`tools/package.mjs` puts them there).
 */
export interface ProgramFiles {
  /** A file that the build puts into `dist`. */
  readonly built: (name: string) => Buffer;
  /** A file of the package that carries the registry of systems; null: it has none of that name. */
  readonly registry: (name: string) => Buffer | null;
  /** Names in a folder of that package. */
  readonly registryNames: (folder: string) => readonly string[];
  /** Whether the program is one executable file. */
  readonly isPacked: boolean;
}

const REGISTRY = 'registry/';

const PACKED: ProgramFiles = {
  built: (name) => Buffer.from(getAsset(name)),
  registry(name) {
    try {
      return Buffer.from(getAsset(REGISTRY + name));
    } catch {
      // An asset that is not there is all that can go wrong.
      return null;
    }
  },
  registryNames: (folder) =>
    (JSON.parse(getAsset(`${REGISTRY}names.json`, 'utf8')) as string[])
      .filter((name) => name.startsWith(`${folder}/`))
      .map((name) => name.slice(folder.length + 1)),
  isPacked: true,
};

const ON_DISK: ProgramFiles = {
  built: (name) => readFileSync(builtFile(name)),
  registry(name) {
    try {
      return readFileSync(join(registryFolder(), name));
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
      throw error;
    }
  },
  registryNames: (folder) => readdirSync(join(registryFolder(), folder)),
  isPacked: false,
};

function registryFolder(): string {
  return dirname(createRequire(import.meta.url).resolve('epsg-index/package.json'));
}

export const PROGRAM_FILES: ProgramFiles = isSea() ? PACKED : ON_DISK;
