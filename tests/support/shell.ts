import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { hasProgram } from './external-programs.js';
import { ROOT } from './repository-files.js';

/** False where the program is not built; npm run check builds it first. */
const isBuilt: boolean = existsSync(join(ROOT, 'dist', 'program', 'main.js'));

/** True where scripts for this shell can be run: it is there, and the built program as well. */
export function canRunScripts(shell: 'bash'): boolean {
  return isBuilt && hasProgram(shell) && process.platform !== 'win32';
}

if (!canRunScripts('bash'))
  process.stderr.write(
    `scripts for bash are not run: ${isBuilt ? 'bash is not installed' : 'the program is not built'}\n`,
  );

/** How a script ended. */
export interface ShellResult {
  readonly exit: number | null;
  readonly output: string;
}

/** Runs a program in a folder where `pegbook` is the built program, as it would be once installed. */
export function runInShell(
  folder: string,
  words: readonly string[],
  env: Readonly<Record<string, string>> = {},
): ShellResult {
  const bin = join(folder, '.installed');
  mkdirSync(bin, { recursive: true });
  const program = join(bin, 'pegbook');
  writeFileSync(program, `#!/bin/sh\nexec "${process.execPath}" "${join(ROOT, 'bin', 'pegbook.js')}" "$@"\n`);
  chmodSync(program, 0o755);
  const [name = '', ...rest] = words;
  const result = spawnSync(name, rest, {
    cwd: folder,
    encoding: 'utf8',
    env: {
      ...process.env,
      SOURCE_DATE_EPOCH: '1772604000',
      ...env,
      PATH: `${bin}${delimiter}${process.env['PATH'] ?? ''}`,
    },
  });
  if (result.error !== undefined) throw result.error;
  return { exit: result.status, output: `${result.stdout}${result.stderr}` };
}
