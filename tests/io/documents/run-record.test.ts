import { describe, expect, it } from 'vitest';
import { runRecord } from '../../../src/io/documents/run-record.js';
import type { RunRecordInput } from '../../../src/io/documents/run-record.js';

const RUN: RunRecordInput = {
  toolVersion: '0.1.0',
  argv: ['reduce-points', 'fixes.csv'],
  settings: [
    { key: 'rover.pole_length_m', value: 2, from: 'command line' },
    { key: 'height.geoid', value: null, from: 'default' },
  ],
  inputs: [
    {
      name: 'fixes.csv',
      bytes: 10,
      sha256: 'ab',
      kind: 'csv',
      encoding: 'utf-8',
      rowsRead: 3,
      rowsUsed: 2,
      rowsRejected: 1,
    },
  ],
  systems: [],
  grids: [],
  methods: [{ id: 'pole', name: 'pole reduction' }],
  outputs: [{ name: 'points.csv', role: 'output', bytes: 7, sha256: 'cd' }],
  summary: null,
  problemCounts: new Map([
    ['value-missing', 2],
    ['csv-row-length', 1],
  ]),
  verdict: 'review',
  verdictCounts: new Map([
    ['accepted', 4],
    ['review', 1],
  ]),
  reasonCounts: new Map([
    ['point-step', 1],
    ['point-drift', 2],
  ]),
  exitCode: 0,
  timeMs: null,
};

describe('runRecord', () => {
  it('states its schema and version first, sorts settings and codes, and has no clock of its own', () => {
    const text = runRecord(RUN);
    expect(text).toBe(
      runRecord({
        ...RUN,
        settings: [...RUN.settings].reverse(),
        problemCounts: new Map([...RUN.problemCounts].reverse()),
      }),
    );
    const record = JSON.parse(text) as Record<string, unknown>;
    expect(Object.keys(record).slice(0, 3)).toEqual(['schema', 'version', 'tool_version']);
    expect(record['settings']).toMatchObject([
      { key: 'height.geoid' },
      { key: 'rover.pole_length_m', value: 2, from: 'command line' },
    ]);
    expect(Object.entries(record['problems'] as object)).toEqual([
      ['csv-row-length', 1],
      ['value-missing', 2],
    ]);
    expect(record['inputs']).toMatchObject([{ rows_read: 3, rows_used: 2, rows_rejected: 1 }]);
    expect(record).toMatchObject({ verdict: 'review', verdict_counts: { accepted: 4, review: 1 } });
    expect(Object.entries(record['reason_counts'] as object)).toEqual([
      ['point-drift', 2],
      ['point-step', 1],
    ]);
    expect('time_utc' in record).toBe(false);
  });

  it('writes the time it is given', () => {
    expect(runRecord({ ...RUN, timeMs: 0 })).toContain('"time_utc": "1970-01-01T00:00:00Z"');
  });
});
