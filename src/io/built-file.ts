/**
 * A file that the build puts into `dist`. This module stands two folders below the root as a source, compiled and in the program that
 * the build puts together, so that one path serves them all.
 *
 * Given: its name. Returned: its address.
 */
export function builtFile(name: string): URL {
  return new URL(`../../dist/${name}`, import.meta.url);
}
