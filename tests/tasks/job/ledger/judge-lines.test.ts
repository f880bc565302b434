import { describe, expect, it } from 'vitest';
import type { LedgerLine } from '../../../../src/records/runs/ledger.js';
import { judgeLines } from '../../../../src/tasks/job/ledger/judge-lines.js';

/** The line of this number, written after another; with nothing said otherwise after the number before. */
function line(sequence: number, own: Partial<LedgerLine> = {}): LedgerLine {
  return {
    line: sequence,
    sequence,
    timeUtc: '2026-03-04T06:00:00Z',
    command: 'reduce-points',
    answer: 'within',
    verdictCounts: {},
    inputs: [],
    outputs: [],
    previousSha256: sequence === 1 ? null : `sha-${String(sequence - 1)}`,
    statedSha256: `sha-${String(sequence)}`,
    actualSha256: `sha-${String(sequence)}`,
    ...own,
  };
}

const said = (lines: readonly (LedgerLine | null)[], head: string | null = null): readonly string[] =>
  judgeLines(lines, head).map(({ code, line: at, said: text }) => `${code} ${String(at)} ${text}`);

const AFTER_ANOTHER = 'was written after another line than the one before it';

describe('judgeLines', () => {
  // Each case is what somebody did to a ledger of whole lines, and what must be said of it: no more, no less.
  it.each<readonly [string, readonly (LedgerLine | null)[], readonly string[]]>([
    ['nothing', [line(1), line(2), line(3)], []],
    ['an empty ledger', [], []],
    [
      'one line altered',
      [line(1), line(2, { actualSha256: 'other' }), line(3)],
      ['ledger-line-altered 2 is not what was written'],
    ],
    ['one line made unreadable', [line(1), null, line(3)], ['ledger-line-altered 2 cannot be read']],
    ['the first line made unreadable', [null, line(2)], ['ledger-line-altered 1 cannot be read']],
    ['one taken out', [line(1), line(3)], ['ledger-line-removed 2 before it number 2 is missing']],
    ['the first taken out', [line(2), line(3)], ['ledger-line-removed 1 before it number 1 is missing']],
    ['three taken out', [line(1), line(5)], ['ledger-line-removed 2 before it 3 lines from number 2 on are missing']],
    [
      'two exchanged',
      [line(1), line(3), line(2), line(4)],
      ['ledger-line-reordered 3 is number 2, and number 3 stands before it'],
    ],
    [
      'one put in twice',
      [line(1), line(2), line(2)],
      ['ledger-line-reordered 3 is number 2, and number 2 stands before it'],
    ],
    [
      'one put in place of another',
      [line(1), line(2, { statedSha256: 'new', actualSha256: 'new' }), line(3)],
      [`ledger-line-replaced 3 ${AFTER_ANOTHER}`],
    ],
    [
      'a first line that names one before it',
      [line(1, { previousSha256: 'older' }), line(2)],
      [`ledger-line-replaced 1 ${AFTER_ANOTHER}`],
    ],
    [
      'a later line that says it is the first',
      [line(1), line(2, { previousSha256: null })],
      [`ledger-line-replaced 2 ${AFTER_ANOTHER}`],
    ],
  ])('says what was done to it: %s', (_, lines, expected) => {
    expect(said(lines)).toEqual(expected);
  });

  it('gives both digests of a line that was altered, and of one that follows another', () => {
    const [altered] = judgeLines([line(1, { actualSha256: 'found' })], null);
    expect(altered).toMatchObject({ name: null, expectedSha256: 'sha-1', foundSha256: 'found' });
    const [replaced] = judgeLines([line(1), line(2, { previousSha256: 'other' })], null);
    expect(replaced).toMatchObject({ name: null, expectedSha256: 'other', foundSha256: 'sha-1' });
  });

  it('misses the line of a front sheet where it is not there, wherever it stood', () => {
    const lines = [line(1), null, line(3)];
    for (const head of ['sha-1', 'sha-3']) expect(judgeLines(lines, head)).toEqual(judgeLines(lines, null));
    const [, missing] = judgeLines(lines, 'sha-4');
    expect(missing).toMatchObject({ code: 'ledger-head-missing', line: null, expectedSha256: 'sha-4' });
    expect(said([], 'sha-4')).toEqual(['ledger-head-missing null no line has the digest asked for']);
  });
});
