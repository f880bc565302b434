import { describe, expect, it } from 'vitest';
import type { EntryFiles } from '../../../../src/records/runs/manifest-entry.js';
import type { FinishedRun } from '../../../../src/records/runs/finished-run.js';
import { judgeEntry } from '../../../../src/tasks/job/manifest/judge-entry.js';
import { rollUp } from '../../../../src/tasks/job/manifest/roll-up.js';

const WORDS = ['reduce-points', 'a.csv', '--pole-length', '1.5', '--combine'];
const RUN: FinishedRun = {
  source: 'run.json',
  toolVersion: '1.0.0',
  argv: WORDS,
  settings: new Map(),
  outputs: [],
  summary: null,
  inputs: [],
  problems: new Map([['epoch-not-fixed', 2]]),
  answer: 'within',
  verdict: 'within',
  verdictCounts: new Map([['accepted', 3]]),
  reasonCounts: new Map(),
  exitCode: 0,
  json: {},
};
const FILES: EntryFiles = {
  inputs: [{ name: 'a.csv', bytes: 1, sha256: 'aa' }],
  outputs: [{ name: 'b.csv', bytes: 1, sha256: 'bb' }],
  problem: null,
};
const NOW = new Map([
  ['a.csv', 'aa'],
  ['b.csv', 'bb'],
]);
const ASKED = { toolVersion: '1.0.0', words: WORDS };

describe('an entry of a manifest', () => {
  it('is done where program, words and every file are what they were', () => {
    expect(judgeEntry(RUN, FILES, ASKED, NOW)).toEqual({ state: 'done', changed: null });
  });

  it('is not run where there is no record, and failed where errors stopped it or it ended with more than 1', () => {
    expect(judgeEntry(null, null, ASKED, NOW).state).toBe('not-run');
    expect(judgeEntry({ ...RUN, verdict: 'error', exitCode: 3 }, FILES, ASKED, NOW).state).toBe('failed');
    expect(judgeEntry({ ...RUN, exitCode: 4 }, FILES, ASKED, NOW).state).toBe('failed');
    expect(judgeEntry({ ...RUN, exitCode: 1, verdict: 'no' }, FILES, ASKED, NOW).state).toBe('done');
  });

  it.each([
    ['it was run without --combine', WORDS.slice(0, 4)],
    ['it was run without --pole-length 1.5', ['reduce-points', 'a.csv', '--combine']],
    [
      'it was run with --pole-length 1.8, not with --pole-length 1.5',
      WORDS.map((word) => (word === '1.5' ? '1.8' : word)),
    ],
    [
      'it was run with reduce-points b.csv, not with reduce-points a.csv',
      WORDS.map((word) => (word === 'a.csv' ? 'b.csv' : word)),
    ],
  ])('changed: %s', (said, argv) => {
    expect(judgeEntry({ ...RUN, argv }, FILES, ASKED, NOW)).toEqual({ state: 'changed', changed: said });
  });

  it('changed where it was run with an option that is not asked for now', () => {
    expect(judgeEntry({ ...RUN, argv: [...WORDS, '--system', 'EPSG:2049'] }, FILES, ASKED, NOW).changed).toBe(
      'it was run with --system EPSG:2049',
    );
  });

  it('changed where a file is another, or is not there, or nothing says which files it was of', () => {
    expect(judgeEntry(RUN, FILES, ASKED, new Map([...NOW, ['a.csv', 'ab']])).changed).toBe('a.csv is another now');
    expect(judgeEntry(RUN, FILES, ASKED, new Map([['a.csv', 'aa']])).changed).toBe('b.csv is not there');
    expect(judgeEntry(RUN, null, ASKED, NOW).changed).toBe('its record is not of a run of a manifest');
  });
});

describe('the roll-up of a manifest', () => {
  const entry = (state: 'done' | 'failed' | 'changed' | 'not-run', run: FinishedRun | null = RUN) => ({
    state,
    run,
    output: 'b.csv',
  });

  it('counts nothing of an entry that is not done', () => {
    const whole = rollUp([entry('done'), entry('changed'), entry('failed'), entry('not-run', null), entry('done')]);
    expect(whole.answer).toEqual({
      answer: 'no',
      verdicts: new Map([['accepted', 6]]),
      reasons: new Map([
        ['manifest-entry-changed', 1],
        ['manifest-entry-failed', 1],
        ['manifest-entry-not-run', 1],
      ]),
    });
    expect(whole.problems).toEqual(new Map([['epoch-not-fixed', 4]]));
  });

  it('has the gravest answer of entries that are all done', () => {
    expect(rollUp([entry('done'), entry('done', { ...RUN, answer: 'review' })]).answer.answer).toBe('review');
    expect(rollUp([entry('done')]).answer.answer).toBe('within');
  });
});
