import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { prepareLedgerLine } from '../../../src/io/ledger/ledger-append.js';
import { ledgerLine, readLedgerLine } from '../../../src/io/ledger/ledger-line.js';
import { readLedger } from '../../../src/io/ledger/ledger-read.js';
import { judgeLines } from '../../../src/tasks/job/ledger/judge-lines.js';
import { ledgerRun } from '../../support/ledger-runs.js';
import { codes, value } from '../support.js';

let folder = '';
let path = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ledger-'));
  path = join(folder, 'job-ledger.jsonl');
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const append = async (command = 'reduce-points'): Promise<void> => {
  const line = value(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun({ command })));
  value(await line.commit());
};

describe('a line of a ledger', () => {
  const run = ledgerRun({
    inputs: [{ name: 'day1.csv', bytes: 12, sha256: 'a'.repeat(64) }],
    outputs: [{ role: 'record', name: 'run.json', bytes: 5, sha256: 'b'.repeat(64) }],
  });
  const text = ledgerLine(run, { sequence: 4, sha256: 'c'.repeat(64) });

  it('is read back as it was written', () => {
    expect(readLedgerLine(text, 5)).toMatchObject({
      line: 5,
      sequence: 5,
      timeUtc: '2026-03-04T06:00:00Z',
      command: 'reduce-points',
      answer: 'within',
      verdictCounts: { accepted: 3 },
      inputs: run.inputs,
      outputs: run.outputs,
      previousSha256: 'c'.repeat(64),
    });
    expect(JSON.parse(text)).toMatchObject({ record_sha256: 'b'.repeat(64), exit_code: 0 });
  });

  it('shows the change of any character of it', () => {
    const whole = readLedgerLine(text, 1);
    expect(whole?.actualSha256).toBe(whole?.statedSha256);
    for (let at = 0; at < text.length; at += 1) {
      const changed = text.slice(0, at) + (text[at] === '0' ? '1' : '0') + text.slice(at + 1);
      const read = readLedgerLine(changed, 1);
      if (read !== null) expect(read.actualSha256, changed).not.toBe(read.statedSha256);
    }
  });
});

describe('prepareLedgerLine', () => {
  it('shows nothing before it is committed, and leaves nothing where it is given up', async () => {
    await append();
    const before = readFileSync(path, 'utf8');
    const line = value(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun()));
    expect(readFileSync(path, 'utf8')).toBe(before);
    await line.abort();
    expect(readdirSync(folder)).toEqual(['job-ledger.jsonl']);
    expect(readFileSync(path, 'utf8')).toBe(before);
  });

  it('keeps every line and their chain where many runs end at once', async () => {
    await Promise.all(Array.from({ length: 24 }, (_, run) => append(`command-${String(run)}`)));
    const { lines } = value(await readLedger(path, 'ledger'));
    expect(lines).toHaveLength(24);
    expect(lines.map((line) => line?.sequence)).toEqual(Array.from({ length: 24 }, (_, i) => i + 1));
    expect(new Set(lines.map((line) => line?.command)).size).toBe(24);
    expect(judgeLines(lines, null)).toEqual([]);
    expect(readdirSync(folder)).toEqual(['job-ledger.jsonl']);
  });

  it('says that another run holds it, where that does not end', async () => {
    const held = value(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun()));
    const patience = { waitMs: 120, staleMs: 60_000 };
    expect(codes(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun(), patience))).toEqual(['file-locked']);
    value(await held.commit());
    value(await value(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun(), patience)).commit());
    expect(value(await readLedger(path, 'ledger')).lines).toHaveLength(2);
  });

  it('does not wait for a run that died', async () => {
    writeFileSync(`${path}.lock`, '');
    utimesSync(`${path}.lock`, new Date(Date.now() - 60_000), new Date(Date.now() - 60_000));
    await append();
    expect(existsSync(`${path}.lock`)).toBe(false);
  });

  it('puts nothing after a last line that is not whole', async () => {
    await append();
    appendFileSync(path, '{"schema":"pegbook-job-ledger"');
    expect(codes(await prepareLedgerLine(path, 'job-ledger.jsonl', ledgerRun()))).toEqual(['ledger-damaged']);
    expect(readdirSync(folder)).toEqual(['job-ledger.jsonl']);
  });
});
