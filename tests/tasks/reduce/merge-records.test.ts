import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readRunRecord } from '../../../src/io/documents/run-record-read.js';
import { runRecord } from '../../../src/io/documents/run-record.js';
import type { RunInput, RunRecordInput } from '../../../src/io/documents/run-record.js';
import { mergeRecords } from '../../../src/tasks/reduce/merge-records.js';
import type { Outcome } from '../../../src/records/outcome.js';
import type { MergedRun } from '../../../src/tasks/reduce/merge-records.js';

const FIXES: RunInput = {
  name: 'fixes.csv',
  bytes: 90,
  sha256: 'ab',
  kind: 'csv',
  encoding: 'utf-8',
  rowsRead: 10,
  rowsUsed: 9,
  rowsRejected: 1,
};
const SESSION: RunInput = {
  name: 'session.toml',
  bytes: 9,
  sha256: 'cd',
  kind: 'session',
  encoding: 'utf-8',
  rowsRead: 0,
  rowsUsed: 0,
  rowsRejected: 0,
};
const RUN: RunRecordInput = {
  toolVersion: '0.1.0',
  argv: ['reduce-points'],
  settings: [{ key: 'rover.pole_length_m', value: 2, from: 'session file' }],
  inputs: [],
  systems: [],
  grids: [],
  methods: [],
  outputs: [],
  summary: null,
  problemCounts: new Map([['value-missing', 1]]),
  verdict: 'within',
  verdictCounts: new Map([
    ['accepted', 4],
    ['review', 0],
  ]),
  reasonCounts: new Map(),
  exitCode: 0,
  timeMs: null,
};

function part(
  rowFrom: number,
  rowTo: number,
  reachesEnd: boolean,
  changes: Partial<RunRecordInput> = {},
  fixes: Partial<RunInput> = {},
): RunRecordInput {
  return {
    ...RUN,
    inputs: [
      SESSION,
      {
        ...FIXES,
        rowsRead: rowTo - rowFrom + 1,
        rowsUsed: rowTo - rowFrom,
        part: { rowFrom, rowTo, reachesEnd },
        ...fixes,
      },
    ],
    ...changes,
  };
}

function merged(...runs: readonly RunRecordInput[]): Outcome<MergedRun> {
  const read = runs.map((run, index) => {
    const outcome = readRunRecord(runRecord(run), `${index}.json`);
    if (!outcome.ok) throw new Error('a record that was just written cannot be read');
    return outcome.value;
  });
  return mergeRecords(read, ['merge-records'], (answer) => answer === 'no');
}

function codeOf(outcome: Outcome<MergedRun>): string {
  return outcome.ok ? 'merged' : (outcome.problems[0]?.code ?? '');
}

describe('mergeRecords', () => {
  it('adds up rows and problems in any order, and forgets the parts where they make a whole', () => {
    const outcome = merged(part(11, 20, true), part(1, 10, false));
    if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
    const { inputs, problems, verdict, exit_code: exit, parts } = outcome.value.record as Record<string, unknown>;
    expect(inputs).toEqual([
      expect.objectContaining({ name: 'session.toml' }),
      {
        name: 'fixes.csv',
        kind: 'csv',
        bytes: 90,
        sha256: 'ab',
        encoding: 'utf-8',
        rows_read: 20,
        rows_used: 18,
        rows_rejected: 2,
      },
    ]);
    expect([problems, verdict, exit]).toEqual([{ 'value-missing': 2 }, 'within', 0]);
    expect(parts).toHaveLength(2);
    expect(outcome.value.rowsRead).toBe(20);
  });

  it('names the files of all parts, and what they were about together', () => {
    const about = { title: 'Day', points: 3, firstEpochMs: 5000, lastEpochMs: 9000, bases: ['B1'], largest: [] };
    const outcome = merged(
      part(11, 20, true, {
        outputs: [{ name: 'b.csv', role: 'output', bytes: 1, sha256: 'b' }],
        summary: { ...about, bases: ['B2'], largest: [{ figure: 'circle_95_m', value: 0.03, at: 'P9' }] },
      }),
      part(1, 10, false, {
        outputs: [{ name: 'a.csv', role: 'output', bytes: 1, sha256: 'a' }],
        summary: { ...about, firstEpochMs: 1000, largest: [{ figure: 'circle_95_m', value: 0.02, at: 'P1' }] },
      }),
    );
    if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
    expect(outcome.value.record['outputs']).toMatchObject([{ name: 'a.csv' }, { name: 'b.csv' }]);
    expect(outcome.value.record['summary']).toEqual({
      title: 'Day',
      points: 6,
      first_epoch_utc: '1970-01-01T00:00:01Z',
      last_epoch_utc: '1970-01-01T00:00:09Z',
      bases: ['B1', 'B2'],
      largest: [{ figure: 'circle_95_m', value: 0.03, at: 'P9' }],
    });
  });

  it('says nothing of what parts were about where one of them does not say', () => {
    const about = { title: '', points: 3, firstEpochMs: null, lastEpochMs: null, bases: [], largest: [] };
    const outcome = merged(part(1, 10, false, { summary: about }), part(11, 20, true));
    expect(outcome.ok && 'summary' in outcome.value.record).toBe(false);
  });

  it('says no where one part does', () => {
    const outcome = merged(part(1, 10, false), part(11, 20, true, { verdict: 'no', exitCode: 1 }));
    expect(outcome).toMatchObject({ ok: true, value: { record: { verdict: 'no', exit_code: 1 } } });
  });

  it('says review where one part does and none says no, and adds up verdicts and reasons', () => {
    const doubtful = part(11, 20, true, {
      verdict: 'review',
      verdictCounts: new Map([
        ['accepted', 1],
        ['review', 3],
      ]),
      reasonCounts: new Map([['point-drift', 3]]),
    });
    expect(merged(part(1, 10, false), doubtful)).toMatchObject({
      ok: true,
      value: {
        answer: { answer: 'review' },
        record: {
          verdict: 'review',
          exit_code: 0,
          verdict_counts: { accepted: 5, review: 3 },
          reason_counts: { 'point-drift': 3 },
        },
      },
    });
  });

  it('refuses a verdict that is none of the words', () => {
    const outcome = readRunRecord(runRecord({ ...RUN, verdict: 'perhaps' }), 'r.json');
    expect(outcome.problems[0]).toMatchObject({ code: 'record-schema', where: { path: 'verdict' } });
  });

  it('joins runs over files of their own', () => {
    const other = { ...FIXES, name: 'more.csv', sha256: 'ef' };
    expect(merged({ ...RUN, inputs: [SESSION, FIXES] }, { ...RUN, inputs: [SESSION, other] })).toMatchObject({
      ok: true,
      value: { rowsRead: 20 },
    });
  });

  it('refuses rows that are missing, before, between or after the parts, and a part that failed', () => {
    expect(codeOf(merged(part(2, 10, false), part(11, 20, true)))).toBe('record-incomplete');
    expect(codeOf(merged(part(1, 10, false), part(12, 20, true)))).toBe('record-incomplete');
    expect(codeOf(merged(part(1, 10, false), part(11, 20, false)))).toBe('record-incomplete');
    expect(codeOf(merged(part(1, 10, false), part(11, 20, true, { exitCode: 3, verdict: 'error' })))).toBe(
      'record-incomplete',
    );
    expect(codeOf(mergeRecords([], [], () => false))).toBe('record-incomplete');
  });

  it('refuses rows that are there twice, another file, other settings, and another program', () => {
    expect(codeOf(merged(part(1, 10, false), part(10, 20, true)))).toBe('record-conflict');
    expect(codeOf(merged(part(1, 10, true), part(11, 20, true)))).toBe('record-conflict');
    expect(codeOf(merged({ ...RUN, inputs: [FIXES] }, { ...RUN, inputs: [FIXES] }))).toBe('record-conflict');
    expect(codeOf(merged(part(1, 10, false), part(11, 20, true, {}, { sha256: 'ff' })))).toBe('record-conflict');
    expect(codeOf(merged(part(1, 10, false), part(11, 20, true, { toolVersion: '0.2.0' })))).toBe('record-conflict');
    const settings = merged(
      part(1, 10, false),
      part(11, 20, true, { settings: [{ key: 'rover.pole_length_m', value: 1.8, from: 'session file' }] }),
    );
    expect(settings).toMatchObject({
      ok: false,
      problems: [{ code: 'record-conflict', message: 'differs from 0.json in settings: rover.pole_length_m' }],
    });
  });

  it('refuses counts that do not add up, whichever they are', () => {
    const counts = fc.record({
      rowsRead: fc.integer({ min: -3, max: 5 }),
      rowsUsed: fc.integer({ min: -3, max: 5 }),
      rowsRejected: fc.integer({ min: -3, max: 5 }),
      rowTo: fc.integer({ min: 0, max: 6 }),
    });
    fc.assert(
      fc.property(counts, ({ rowTo, ...rows }) => {
        const isSound =
          Object.values(rows).every((count) => count >= 0) &&
          rows.rowsUsed + rows.rowsRejected === rows.rowsRead &&
          rowTo === rows.rowsRead;
        const outcome = readRunRecord(
          runRecord({ ...RUN, inputs: [{ ...FIXES, ...rows, part: { rowFrom: 1, rowTo, reachesEnd: true } }] }),
          'a.json',
        );
        expect(outcome.ok).toBe(isSound);
        if (!outcome.ok) expect(new Set(outcome.problems.map(({ code }) => code))).toEqual(new Set(['record-schema']));
      }),
      { numRuns: 500, seed: 20261128, examples: [[{ rowsRead: 3, rowsUsed: 2, rowsRejected: 1, rowTo: 3 }]] },
    );
    expect(readRunRecord(runRecord({ ...RUN, problemCounts: new Map([['value-missing', -1]]) }), 'a.json').ok).toBe(
      false,
    );
  });

  it('keeps a time that all parts carry, and none where they differ', () => {
    expect(merged(part(1, 10, false, { timeMs: 0 }), part(11, 20, true, { timeMs: 0 }))).toMatchObject({
      ok: true,
      value: { record: { time_utc: '1970-01-01T00:00:00Z' } },
    });
    const outcome = merged(part(1, 10, false, { timeMs: 0 }), part(11, 20, true, { timeMs: 1000 }));
    expect(outcome.ok && 'time_utc' in outcome.value.record).toBe(false);
  });
});

describe('readRunRecord', () => {
  it('refuses what is no run record, or not whole, and says where', () => {
    const bad = (text: string): string => {
      const outcome = readRunRecord(text, 'r.json');
      return outcome.ok ? 'read' : (outcome.problems[0]?.code ?? '');
    };
    expect(bad('{')).toBe('config-syntax');
    expect(bad('[]')).toBe('record-schema');
    expect(bad('{"schema":"pegbook-site","version":1}')).toBe('record-schema');
    expect(bad(runRecord(RUN).replace('"version": 2', '"version": 1'))).toBe('record-schema');
    expect(bad(runRecord(RUN).replace('"value-missing": 1', '"value-missing": "one"'))).toBe('record-schema');
    expect(bad(runRecord(part(1, 2, true)).replace('"rows_read": 2', '"rows_read": null'))).toBe('record-schema');
    expect(bad(runRecord(RUN))).toBe('read');
  });
});
