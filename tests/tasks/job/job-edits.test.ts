import { describe, expect, it } from 'vitest';
import { createJobEdits, editLines } from '../../../src/tasks/job/job-edits.js';
import type { JobExclusion, JobRename } from '../../../src/records/runs/job.js';

const LINE = { path: 'x[0]', line: 7 };

function exclude(point: string, day: string | null, occupation: string | null): JobExclusion {
  return { point, day, occupation, reason: 'why', ...LINE };
}

function rename(from: string, to: string, day: string | null): JobRename {
  return { from, to, day, reason: 'why', ...LINE };
}

describe('createJobEdits', () => {
  it('leaves out one occupation of a day, all of a day, or all', () => {
    const edits = createJobEdits({
      exclusions: [exclude('P1', 'mon', '2'), exclude('P2', 'mon', null), exclude('P3', null, null)],
      renames: [],
    });
    const left = (
      [
        ['P1', 'mon', '1'],
        ['P1', 'mon', '2'],
        ['P1', 'tue', '2'],
        ['P2', 'mon', '9'],
        ['P2', 'tue', '9'],
        ['P3', 'tue', '1'],
      ] as const
    ).map(([point, day, occupation]) => edits.isExcluded(point, day, occupation));
    expect(left).toEqual([false, true, false, true, false, true]);
    expect(edits.applied().map(({ count }) => count)).toEqual([1, 1, 1]);
  });

  it('exchanges two names, each once', () => {
    const edits = createJobEdits({ exclusions: [], renames: [rename('A', 'B', null), rename('B', 'A', null)] });
    expect(['A', 'B', 'C'].map((name) => edits.nameOf(name, 'mon'))).toEqual(['B', 'A', 'C']);
  });

  it('says each that changed nothing, with its line, and what the others changed', () => {
    const edits = createJobEdits({ exclusions: [exclude('P1', 'mon', '2')], renames: [rename('A', 'B', 'mon')] });
    edits.nameOf('A', 'tue');
    expect(edits.unmatched('job.toml').map(({ code, where }) => [code, where?.source, where?.line])).toEqual([
      ['value-unknown-id', 'job.toml', 7],
      ['value-unknown-id', 'job.toml', 7],
    ]);
    edits.nameOf('A', 'mon');
    edits.isExcluded('P1', 'mon', '2');
    expect(edits.unmatched('job.toml')).toEqual([]);
    expect(editLines(edits.applied())).toEqual([
      'left out: P1 with an occupation 2 on mon, 1 occupation: why',
      'renamed: A to B on mon, 1 epoch: why',
    ]);
  });
});
