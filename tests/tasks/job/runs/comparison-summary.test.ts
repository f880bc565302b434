import { describe, expect, it } from 'vitest';
import type { FinishedRun } from '../../../../src/records/runs/finished-run.js';
import type { RunChange } from '../../../../src/tasks/job/runs/compare-runs.js';
import {
  comparisonAnswer,
  comparisonSummary,
  runDifferences,
} from '../../../../src/tasks/job/runs/comparison-summary.js';

/** A change as far as the summary looks at it; metres. */
function change(
  pointId: string,
  moved: readonly [number, number, number | null] | null,
  more: Partial<RunChange> = {},
): RunChange {
  return {
    pointId,
    change: 'kept',
    observations: moved === null ? null : 'other',
    eastM: moved?.[0] ?? null,
    northM: moved?.[1] ?? null,
    upM: moved?.[2] ?? null,
    hasUnknownSetup: false,
    verdict: 'within',
    reasons: [],
    ...more,
  } as unknown as RunChange;
}

const CHANGES = [
  change('A', [3, 4, -7], { change: 'moved', verdict: 'no', reasons: ['run-point-moved', 'run-verdict-changed'] }),
  change('B', [1, 1, 2], { observations: 'same' }),
  change('C', [2, 0, null], {
    change: 'undecided',
    verdict: 'review',
    reasons: ['check-setup-unknown'],
    hasUnknownSetup: true,
  }),
  change('D', null, { change: 'appeared', verdict: 'review', reasons: ['run-point-appeared'] }),
  change('E', null, { change: 'vanished', verdict: 'review', reasons: ['run-point-vanished'] }),
];

describe('comparisonSummary', () => {
  it('counts changes, and takes the median of each axis for what all have in common', () => {
    // East 3, 1, 2: 2. North 4, 1, 0: 1. Up −7, 2: −2.5. The farthest from it is A: by (1, 3) and by 4.5.
    expect(comparisonSummary(CHANGES)).toEqual({
      compared: 3,
      counts: { kept: 1, undecided: 1, moved: 1, appeared: 1, vanished: 1 },
      verdictChanged: 1,
      sameObservations: 1,
      unknownSetups: 1,
      largest: [
        { figure: 'horizontal_difference_m', value: 5, at: 'A' },
        { figure: 'vertical_difference_m', value: 7, at: 'A' },
      ],
      common: { eastM: 2, northM: 1, upM: -2.5, leftHorizontalM: Math.hypot(1, 3), leftVerticalM: 4.5 },
    });
  });

  it('has no height in common where none was compared, and nothing at all of no points', () => {
    expect(comparisonSummary([change('C', [2, 0, null])])).toMatchObject({
      largest: [{ figure: 'horizontal_difference_m', value: 2, at: 'C' }],
      common: { eastM: 2, northM: 0, upM: null, leftHorizontalM: 0, leftVerticalM: null },
    });
    expect(comparisonSummary([change('D', null)])).toMatchObject({ compared: 0, largest: [], common: null });
    // A point that did not move has a largest difference all the same: nothing.
    expect(comparisonSummary([change('Z', [0, 0, 0])]).largest.map(({ value }) => value)).toEqual([0, 0]);
  });

  it('counts verdicts and reasons, and answers with the gravest', () => {
    const { answer, verdicts, reasons } = comparisonAnswer(CHANGES);
    expect(answer).toBe('no');
    expect([...verdicts]).toEqual([
      ['within', 1],
      ['review', 3],
      ['no', 1],
    ]);
    expect([...reasons]).toEqual([
      ['run-point-moved', 1],
      ['run-verdict-changed', 1],
      ['check-setup-unknown', 1],
      ['run-point-appeared', 1],
      ['run-point-vanished', 1],
    ]);
    expect(
      comparisonAnswer([...CHANGES.slice(1), change('F', [0, 0, 0], { reasons: ['check-setup-unknown'] })]),
    ).toMatchObject({
      answer: 'review',
      reasons: new Map([
        ['check-setup-unknown', 2],
        ['run-point-appeared', 1],
        ['run-point-vanished', 1],
      ]),
    });
  });
});

describe('runDifferences', () => {
  const run = (
    toolVersion: string,
    settings: readonly (readonly [string, string])[],
    inputs: readonly string[],
  ): FinishedRun =>
    ({
      toolVersion,
      settings: new Map(settings),
      inputs: inputs.map((text) => {
        const [kind = '', name = '', sha256 = ''] = text.split(' ');
        return { kind, name, sha256 };
      }),
    }) as unknown as FinishedRun;

  it('names what two runs do not share: program, settings by key, inputs by kind', () => {
    const before = run(
      '1.0',
      [
        ['b', '1'],
        ['a', '2'],
        ['same', 'x'],
      ],
      ['csv day.csv 0123456789abcdef', 'geoid g.gtx aa'],
    );
    const after = run(
      '1.1',
      [
        ['b', '3'],
        ['c', '4'],
        ['same', 'x'],
      ],
      ['csv day.csv fedcba9876543210', 'csv two.csv bb', 'control k.csv cc', 'geoid g.gtx aa'],
    );
    expect(runDifferences(before, after)).toEqual([
      { key: 'tool_version', before: '1.0', after: '1.1' },
      { key: 'a', before: '2', after: null },
      { key: 'b', before: '1', after: '3' },
      { key: 'c', before: null, after: '4' },
      { key: 'input csv', before: 'day.csv 0123456789ab', after: 'day.csv fedcba987654, two.csv bb' },
      { key: 'input control', before: '', after: 'k.csv cc' },
    ]);
    expect(runDifferences(before, before)).toEqual([]);
  });
});
