import type { LedgerRun } from '../../src/records/runs/ledger.js';

/** An invented run of a job. */
export function ledgerRun(more: Partial<LedgerRun> = {}): LedgerRun {
  return {
    timeMs: Date.UTC(2026, 2, 4, 6),
    toolVersion: '0.1.0',
    job: 'job.toml',
    command: 'reduce-points',
    argv: ['reduce-points', '--job', 'job.toml'],
    exitCode: 0,
    answer: 'within',
    verdictCounts: new Map([['accepted', 3]]),
    inputs: [],
    outputs: [],
    ...more,
  };
}
