import { spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { ROOT } from './repository-files.js';

/** Makes the invented archive of the example in a folder. */
export function makeSessions(folder: string, count: number): void {
  const generator = join(ROOT, 'examples', 'large-job', 'make-sessions.mjs');
  const made = spawnSync(process.execPath, [generator, folder, String(count)], { encoding: 'utf8' });
  if (made.status !== 0) throw new Error(made.stderr);
}

/** A folder for PATH in which `pegbook` is the built program. */
export function installedIn(folder: string): string {
  mkdirSync(folder, { recursive: true });
  const program = join(folder, 'pegbook');
  writeFileSync(program, `#!/bin/sh\nexec "${process.execPath}" "${join(ROOT, 'bin', 'pegbook.js')}" "$@"\n`);
  chmodSync(program, 0o755);
  return `${folder}${delimiter}${process.env['PATH'] ?? ''}`;
}

/** Every file below a folder with its bytes; what a killed run left half written, by its name alone. */
export function treeOf(folder: string): { readonly files: ReadonlyMap<string, string>; readonly leftovers: number } {
  const files = new Map<string, string>();
  let leftovers = 0;
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
    const path = join(folder, name);
    if (!statSync(path).isFile()) continue;
    if (/\.[0-9a-f]{12}\.tmp$/u.test(name)) leftovers += 1;
    else files.set(name, readFileSync(path, 'latin1'));
  }
  return { files, leftovers };
}

/** How many sessions of the archive have a record. */
export function recordsIn(folder: string): number {
  return readdirSync(folder).filter((name) => existsSync(join(folder, name, 'run.json'))).length;
}

/** Starts a program at the head of a session of its own. */
export function startSession(
  program: string,
  words: readonly string[],
  env: Readonly<Record<string, string>>,
): ChildProcess & { readonly pid: number } {
  const child = spawn(program, words, { detached: true, stdio: 'ignore', env: { ...process.env, ...env } });
  if (child.pid === undefined) throw new Error(`${program} did not start`);
  return child as ChildProcess & { readonly pid: number };
}

/** The exit code, or null where a signal ended it. */
export function ended(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve) => {
    child.on('close', resolve);
  });
}

/** Kills every process of the session at once, whatever group it is in: the leader first, then whom it started. */
export function killSession(leader: number): number {
  let killed = 0;
  for (let found = membersOf(leader); found.length > 0; found = membersOf(leader))
    for (const pid of found) {
      try {
        process.kill(pid, 'SIGKILL');
        killed += 1;
      } catch {
        // It ended by itself meanwhile.
      }
    }
  return killed;
}

/** Processes of a session that are running, by /proc. */
function membersOf(leader: number): readonly number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/u.test(name))
    .flatMap((name) => {
      try {
        const stat = readFileSync(join('/proc', name, 'stat'), 'utf8');
        // After the name in brackets: state, parent, group, session.
        const [state, , , session] = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
        return session === String(leader) && state !== 'Z' && state !== 'X' ? [Number(name)] : [];
      } catch {
        return [];
      }
    });
}

/** Waits until something holds. */
export async function until(holds: () => boolean): Promise<void> {
  while (!holds())
    await new Promise((resolve) => {
      setTimeout(resolve, 20);
    });
}
