import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { canRunScripts, runInShell } from '../support/shell.js';

// The steps of the guide for continuous integration, run as such a system would run them.
interface Steps {
  readonly env: Readonly<Record<string, string>>;
  readonly steps: readonly { readonly name: string; readonly run: string }[];
  readonly keep: readonly string[];
}

const yaml = createRequire(import.meta.url)('js-yaml') as { readonly load: (text: string) => unknown };
const job = yaml.load(readFileSync(join(ROOT, 'examples', 'pipeline', 'steps.yml'), 'utf8')) as Steps;
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-pipeline-'));
  cpSync(join(ROOT, 'examples'), join(folder, 'examples'), { recursive: true });
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Runs the steps until one fails; the exit codes of those that were run. */
function run(env: Readonly<Record<string, string>> = {}): readonly (number | null)[] {
  const exits: (number | null)[] = [];
  for (const step of job.steps) {
    const { exit } = runInShell(folder, ['bash', '-e', '-c', step.run], { ...job.env, ...env });
    exits.push(exit);
    if (exit !== 0) break;
  }
  return exits;
}

describe.skipIf(!canRunScripts('bash'))('the steps of a job of continuous integration', () => {
  it('pass for the good day and leave what is to be kept', () => {
    expect(run()).toEqual([0, 0]);
    expect(job.keep.filter((name) => !existsSync(join(folder, name)))).toEqual([]);
    expect((JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as { exit_code: number }).exit_code).toBe(1);
    expect(readFileSync(join(folder, 'verdicts.xml'), 'utf8')).toContain('failures="0"');
  }, 60_000);

  it('fail on the planted blunder with exit code 1, and say which comparisons it was', () => {
    expect(run({ SESSION: 'examples/lessons/base-as-broadcast.toml' })).toEqual([0, 1]);
    const verdicts = readFileSync(join(folder, 'verdicts.xml'), 'utf8');
    expect(
      [
        ...verdicts.matchAll(
          /<testcase [^>]*name="([^" ]*) plan: horizontal limit">(?:\s*<properties>.*?<\/properties>)?\s*<failure/gs,
        ),
      ].map(([, name]) => name),
    ).toEqual(['C-01@1', 'C-03@1', 'C-01@2']);
    expect(job.keep.filter((name) => !existsSync(join(folder, name)))).toEqual([]);
  }, 60_000);

  it('fail at the first step where a file is missing', () => {
    expect(run({ DAY: 'examples/no-such-day' })).toEqual([1]);
    expect(existsSync(join(folder, 'points.csv'))).toBe(false);
  }, 60_000);
});
