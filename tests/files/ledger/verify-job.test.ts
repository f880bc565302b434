import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { verifyJob } from '../../../src/files/ledger/verify-job.js';
import { prepareLedgerLine } from '../../../src/io/ledger/ledger-append.js';
import type { LedgerFile, LedgerOutput } from '../../../src/records/runs/ledger.js';
import { ledgerRun } from '../../support/ledger-runs.js';
import { codes, value } from '../../io/support.js';

let folder = '';
const at = (name: string): string => join(folder, name);
const state = (name: string): LedgerFile => {
  const bytes = readFileSync(at(name));
  return { name, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') };
};
const output = (name: string): LedgerOutput => ({ role: 'data', ...state(name) });

async function run(command: string, inputs: readonly string[], outputs: readonly string[]): Promise<void> {
  for (const name of outputs) writeFileSync(at(name), `${command} of ${inputs.map((own) => state(own).sha256).join()}`);
  const line = await prepareLedgerLine(
    at('job-ledger.jsonl'),
    'job-ledger.jsonl',
    ledgerRun({ command, inputs: inputs.map(state), outputs: outputs.map(output) }),
  );
  value(await value(line).commit());
}

const lines = (): string[] => readFileSync(at('job-ledger.jsonl'), 'utf8').trimEnd().split('\n');
const put = (changed: readonly string[]): void => {
  writeFileSync(at('job-ledger.jsonl'), changed.map((line) => `${line}\n`).join(''));
};

/** What is found: code and, of a file, its name; of a line, its number. */
async function found(head: string | null = null): Promise<readonly string[]> {
  const { changes } = value(await verifyJob('job.toml', folder, head));
  return changes.map(({ code, name, line }) => `${code} ${name ?? String(line)}`);
}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'verify-'));
  for (const name of ['job.toml', 'day1.csv', 'control.csv']) writeFileSync(at(name), name);
  await run('reduce-points', ['job.toml', 'day1.csv'], ['points.csv', 'run.json']);
  await run('check-tolerances', ['job.toml', 'points.csv', 'control.csv'], ['checks.csv']);
  await run('transform', ['job.toml', 'points.csv'], ['moved.csv']);
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('verifyJob', () => {
  it('finds nothing where nothing changed', async () => {
    expect(await found()).toEqual([]);
    const { lines: read, standing } = value(await verifyJob('job.toml', folder, null));
    expect(read).toHaveLength(3);
    expect(standing.filter(({ use }) => use === 'output').map(({ name }) => name)).toEqual([
      'points.csv',
      'run.json',
      'checks.csv',
      'moved.csv',
    ]);
  });

  it('finds an input that changed or is not there', async () => {
    writeFileSync(at('control.csv'), 'moved');
    rmSync(at('day1.csv'));
    expect(await found()).toEqual(['job-input-missing day1.csv', 'job-input-changed control.csv']);
  });

  it('finds an output that changed or is not there', async () => {
    writeFileSync(at('checks.csv'), 'by hand');
    rmSync(at('run.json'));
    expect(await found()).toEqual(['job-output-missing run.json', 'job-output-changed checks.csv']);
  });

  it('finds that what was made of an older file no longer follows from it', async () => {
    writeFileSync(at('day1.csv'), 'observed again');
    await run('reduce-points', ['job.toml', 'day1.csv'], ['points.csv', 'run.json']);
    // Both that read the old points; the first run itself has nothing left that stands.
    expect(await found()).toEqual(['job-input-changed points.csv']);
    await run('check-tolerances', ['job.toml', 'points.csv', 'control.csv'], ['checks.csv']);
    await run('transform', ['job.toml', 'points.csv'], ['moved.csv']);
    expect(await found()).toEqual([]);
  });

  it('finds a line that was altered, and the file that it then speaks of falsely', async () => {
    const [first = '', second = '', third = ''] = lines();
    put([first, second.replace('"exit_code":0', '"exit_code":1'), third]);
    expect(await found()).toEqual(['ledger-line-altered 2']);
    put([first, '{}', third]);
    expect((await found()).slice(0, 1)).toEqual(['ledger-line-altered 2']);
  });

  it('finds lines that were taken out at the start or between', async () => {
    const [first = '', second = '', third = ''] = lines();
    put([first, third]);
    expect(await found()).toEqual(['ledger-line-removed 2']);
    put([second, third]);
    expect(await found()).toEqual(['ledger-line-removed 1']);
    put([third]);
    expect(await found()).toEqual(['ledger-line-removed 1']);
  });

  it('finds lines that were put elsewhere or stand twice', async () => {
    const [first = '', second = '', third = ''] = lines();
    put([first, third, second]);
    expect(await found()).toEqual(['ledger-line-reordered 3']);
    put([first, second, second, third]);
    expect(await found()).toEqual(['ledger-line-reordered 3']);
  });

  it('finds a line that was replaced by a whole one', async () => {
    const [first = '', second = '', third = ''] = lines();
    rmSync(at('job-ledger.jsonl'));
    put([first]);
    await run('plan-baseline', ['job.toml'], []);
    const [, other = ''] = lines();
    put([first, other, third]);
    expect(await found()).toEqual(['ledger-line-replaced 3']);
    put([first, second, third]);
    expect(await found()).toEqual([]);
  });

  it('finds that the last lines were taken off, by the digest of the last', async () => {
    const all = lines();
    const { lines: read } = value(await verifyJob('job.toml', folder, null));
    const head = read.at(-1)?.statedSha256 ?? '';
    expect(await found(head)).toEqual([]);
    put(all.slice(0, 2));
    expect(await found()).toEqual([]);
    expect(await found(head)).toEqual(['ledger-head-missing null']);
  });

  it('needs the job file and its ledger', async () => {
    rmSync(at('job-ledger.jsonl'));
    expect(codes(await verifyJob('job.toml', folder, null))).toEqual(['file-not-found']);
    expect(codes(await verifyJob('none.toml', folder, null))).toEqual(['file-not-found']);
  });
});
