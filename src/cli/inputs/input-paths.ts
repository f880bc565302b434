import { resolve } from 'node:path';

/** Absolute paths of the inputs, for the check that no output is one of them. */
export function inputPaths(paths: readonly string[], cwd: string): readonly string[] {
  return paths.filter((path) => path !== '-').map((path) => resolve(cwd, path));
}
