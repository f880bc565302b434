import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { parseCommandLine } from './command-line.js';
import type { SimpleCommand } from './command-line.js';
import { runInProcess } from './run-in-process.js';
import type { RunResult } from './run-in-process.js';

/** The environment of every documented or tested line: the same time everywhere. */
export const FIXED_ENVIRONMENT: Readonly<Record<string, string>> = { SOURCE_DATE_EPOCH: '1772604000' };

/** A place where lines run one after the other, as in a terminal. */
export interface Terminal {
  readonly cwd: string;
  /** Runs one line; the exit code is that of the last program of its pipeline, or the first that failed. */
  run(line: string, stdin?: Buffer): Promise<RunResult>;
}

/**
 * A terminal without a shell: `pegbook` runs in this process; `cat`, `head -n N`, `cd` and `node` with a
 * script are the only other programs, enough for documentation on every system.
 */
export function openTerminal(folder: string): Terminal {
  let cwd = folder;
  const run = async (line: string, stdin: Buffer = Buffer.alloc(0)): Promise<RunResult> => {
    let input = stdin;
    let output: Buffer = Buffer.alloc(0);
    let exit = 0;
    let stderr = '';
    for (const command of parseCommandLine(line)) {
      const path = (name: string): string => resolve(cwd, name);
      if (command.words[0] === 'cd') {
        cwd = path(command.words[1] ?? '.');
        continue;
      }
      const given = command.stdinFile === null ? input : readFileSync(path(command.stdinFile));
      const result = await runOne(command, given, cwd);
      if (exit === 0) exit = result.exit;
      if (command.stderrFile === null) stderr += result.stderr;
      else writeFileSync(path(command.stderrFile), result.stderr);
      if (command.stdoutFile !== null) writeFileSync(path(command.stdoutFile), result.stdout);
      output = command.stdoutFile === null ? result.stdout : Buffer.alloc(0);
      input = output;
    }
    return { exit, stdout: output, stderr };
  };
  return {
    get cwd() {
      return cwd;
    },
    run,
  };
}

async function runOne(command: SimpleCommand, stdin: Buffer, cwd: string): Promise<RunResult> {
  const [name, ...rest] = command.words;
  switch (name) {
    case 'pegbook':
      return runInProcess(rest, { cwd, stdin, env: { ...FIXED_ENVIRONMENT, ...command.env } });
    case 'cat':
      return plain(rest.length === 0 ? stdin : Buffer.concat(rest.map((file) => readFileSync(resolve(cwd, file)))));
    case 'head':
      return plain(firstLines(rest, stdin, cwd));
    case 'node':
      return runScript(rest, cwd);
    default:
      throw new Error(`a documented line may use pegbook, cat, head, cd and node, not ${String(name)}`);
  }
}

function runScript(words: readonly string[], cwd: string): RunResult {
  const { status, stdout, stderr } = spawnSync(process.execPath, words, { cwd });
  if (status === null) throw new Error(`node ${words.join(' ')} did not end by itself`);
  return { exit: status, stdout, stderr: stderr.toString('utf8') };
}

function plain(stdout: Buffer): RunResult {
  return { exit: 0, stdout, stderr: '' };
}

function firstLines(words: readonly string[], stdin: Buffer, cwd: string): Buffer {
  if (words[0] !== '-n' || words[1] === undefined) throw new Error('write head as: head -n 3 [file]');
  const text = (words[2] === undefined ? stdin : readFileSync(resolve(cwd, words[2]))).toString('utf8');
  const lines = text.split('\n');
  return Buffer.from(lines.length <= Number(words[1]) ? text : `${lines.slice(0, Number(words[1])).join('\n')}\n`);
}
