import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** True when a program of this name can be run from the PATH. Tests that need it skip otherwise. */
export function hasProgram(name: string): boolean {
  for (const folder of (process.env['PATH'] ?? '').split(delimiter)) {
    for (const suffix of process.platform === 'win32' ? ['.exe'] : ['']) {
      try {
        accessSync(join(folder, name + suffix), constants.X_OK);
        return true;
      } catch {
        // not in this folder
      }
    }
  }
  return false;
}

/**
 * Runs a program with text on its standard input and returns its standard output as lines, without
 * the empty last one. Throws when it cannot be started or ends with an error.
 */
export function runProgram(name: string, args: readonly string[], stdin: string): readonly string[] {
  const result = spawnSync(name, [...args], {
    input: stdin,
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
  });
  if (result.error !== undefined) throw result.error;
  if (result.status !== 0) {
    throw new Error(`${name} ended with ${String(result.status)}: ${result.stderr.slice(0, 500)}`);
  }
  const lines = result.stdout.split(/\r?\n/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/** The numbers of a line of output, split at blanks; a word that is not a number throws. */
export function numbersOf(line: string): readonly number[] {
  return line
    .trim()
    .split(/\s+/)
    .map((word) => {
      const value = Number(word);
      if (word === '' || !Number.isFinite(value)) throw new Error(`"${word}" is not a number in: ${line}`);
      return value;
    });
}
