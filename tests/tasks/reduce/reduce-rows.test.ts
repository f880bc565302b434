import { describe, expect, it } from 'vitest';
import { prepareReduction } from '../../../src/files/reduction/prepare-reduction.js';
import { readSession } from '../../../src/io/settings/session-read.js';
import type { Fix } from '../../../src/records/points/fix.js';
import { createEpochTimeline } from '../../../src/tasks/reduce/epochs/epoch-timeline.js';
import type { EpochResult } from '../../../src/records/points/reduced-point.js';
import { createReducer } from '../../../src/tasks/reduce/reduce-points.js';
import { makeFix } from '../../core/observation/make-fix.js';
import { valueOf } from '../../support/shift-of-row.js';

// docs/methods/occupations.md, and the problem codes as they are described.
const NOON = Date.UTC(2026, 2, 4, 12);
const session = valueOf(
  readSession('version = 1\n[system]\ngrid = "EPSG:32734"\n[acceptance]\noccupation_gap_s = 60\n', 'day.toml'),
);
const { setup } = valueOf(await prepareReduction({ session, path: 'day.toml' } as never, ['a.csv', 'b.csv']));

type Row = Partial<Fix> & { readonly s?: number | null };
/** Rows of P1, a second apart, of a pole of 2 m unless they say otherwise. */
const fixOf = ({ s = 0, ...own }: Row, line: number): Fix =>
  makeFix({
    epochMs: s === null ? null : NOON + 1000 * s,
    poleLengthM: 2,
    referencePoint: 'arp',
    place: { sourceIndex: 0, line },
    ...own,
  });
function reduced(...rows: readonly Row[]) {
  const points: string[] = [];
  const problems: string[] = [];
  const doubts: string[] = [];
  const reducer = createReducer(setup, {
    onPoint: ({ point }) => {
      points.push(`${point.pointId}: ${String(point.epochsUsed + point.epochsRejected)}`);
      if (point.reasons.includes('point-pole-changed-at-once')) doubts.push(point.pointId);
    },
    onProblems: (said, fixes) => {
      for (const { code, severity, where } of said)
        problems.push(
          `${severity} ${code} ${where?.source ?? ''}:${String(where?.line ?? '')} (${String(fixes.length)})`,
        );
    },
  });
  reducer.push(rows.map((row, index) => fixOf(row, index + 2)));
  reducer.finish();
  return { points, problems, doubts };
}

describe('rows of a file as they follow each other', () => {
  const file = { place: { sourceIndex: 1, line: 3 } };
  it.each<readonly [string, readonly Row[], readonly string[], readonly string[]]>([
    ['epochs of one occupation', [{}, { s: 1 }, { s: 61 }], ['P1: 3'], []],
    ['of two, after the gap', [{}, { s: 61 }], ['P1: 1', 'P1: 1'], []],
    ['of two points', [{}, { s: 1, pointId: 'P2' }], ['P1: 1', 'P2: 1'], []],
    ['the same row twice', [{}, {}], ['P1: 1'], ['warning epoch-repeated a.csv:3 (0)']],
    ['an epoch twice with other values', [{}, { note: 'x' }], ['P1: 1'], ['error epoch-repeated a.csv:3 (1)']],
    ['one epoch of two points', [{}, { pointId: 'P2' }], ['P1: 1', 'P2: 1'], []],
    ['an epoch and a mean at its time', [{}, { epochCount: 5 }], ['P1: 1', 'P1: 5'], []],
    ['a mean and an epoch at its time', [{ epochCount: 5 }, {}], ['P1: 5', 'P1: 1'], []],
    ['a time before the last', [{ s: 5 }, { s: 4 }], ['P1: 1'], ['error time-out-of-order a.csv:3 (1)']],
    ['no times at all', [{ s: null }, { s: null }], ['P1: 1', 'P1: 1'], ['warning time-missing a.csv:2 (0)']],
    ['no time after one', [{}, { s: null }], ['P1: 1'], ['error time-missing a.csv:3 (1)']],
    [
      'a time after none',
      [{ s: null }, {}],
      ['P1: 1'],
      ['warning time-missing a.csv:2 (0)', 'error time-missing a.csv:3 (1)'],
    ],
    [
      'no time after one, of another point',
      [{}, { s: null, pointId: 'P2' }],
      ['P1: 1', 'P2: 1'],
      ['warning time-missing a.csv:3 (0)'],
    ],
    [
      'a time after none, of another point',
      [{ s: null }, { pointId: 'P2' }],
      ['P1: 1', 'P2: 1'],
      ['warning time-missing a.csv:2 (0)'],
    ],
    [
      'no time after one, of another file',
      [{}, { s: null, ...file }],
      ['P1: 1', 'P1: 1'],
      ['warning time-missing b.csv:3 (0)'],
    ],
    [
      'a time after none, of another file',
      [{ s: null }, file],
      ['P1: 1', 'P1: 1'],
      ['warning time-missing a.csv:2 (0)'],
    ],
    [
      'no time after a mean',
      [{ epochCount: 5 }, { s: null }],
      ['P1: 5', 'P1: 1'],
      ['warning time-missing a.csv:3 (0)'],
    ],
    ['a mean without a time', [{}, { s: null, epochCount: 5 }], ['P1: 1', 'P1: 5'], []],
    ['a time after a mean without one', [{ s: null, epochCount: 5 }, {}], ['P1: 5', 'P1: 1'], []],
  ])('make of %s what they are', (_, rows, points, problems) => {
    const found = reduced(...rows);
    expect(found.problems).toEqual(problems);
    expect(found.points).toEqual(points);
  });

  it('say of a row without a time, or with one, what the row before it has', () => {
    const words: string[] = [];
    const reducer = createReducer(setup, {
      onPoint: () => undefined,
      onProblems: (said) => words.push(...said.map(({ message }) => message)),
    });
    reducer.push([
      fixOf({}, 2),
      fixOf({ s: null }, 3),
      fixOf({ pointId: 'P2', s: null }, 4),
      fixOf({ pointId: 'P2' }, 5),
    ]);
    expect(words).toEqual([
      'this row of point P1 has no time, and the row before it has one',
      'rows have no time: each of them is a point of its own',
      'this row of point P2 has a time, and the row before it has none',
    ]);
  });

  it('of a pole that changed at once, within a second, are doubted on both sides', () => {
    const doubts = (...rows: readonly Row[]) => reduced(...rows).doubts;
    expect(doubts({}, { s: 1, poleLengthM: 2.5 })).toEqual(['P1', 'P1']);
    expect(doubts({}, { s: 1.001, poleLengthM: 2.5 })).toEqual([]);
    expect(doubts({}, { s: 1, poleLengthM: 2 })).toEqual([]);
    expect(doubts({}, { s: 1, poleLengthM: 2.5, pointId: 'P2' })).toEqual([]);
    expect(doubts({}, { s: 1, poleLengthM: 2.5 }, { s: 40, poleLengthM: 2 })).toEqual(['P1', 'P1']);
    expect(doubts({ s: null, epochCount: 5 }, { s: 1, poleLengthM: 2.5 })).toEqual([]);
    expect(doubts({}, { s: null, epochCount: 5, poleLengthM: 2.5 })).toEqual([]);
  });

  it('that reach a pack are kept in it', () => {
    const many = Array.from({ length: 700 }, (_, s) => ({ s }));
    expect(reduced(...many).points).toEqual(['P1: 700']);
  });
});

describe('epochs of a run by time', () => {
  type Epoch = readonly [number | null, readonly string[]];
  const timeline = (...own: readonly Epoch[]): ReturnType<ReturnType<typeof createEpochTimeline>['result']> => {
    const epochs = own.map(([s, refusals]) => ({ fix: { epochMs: s === null ? null : 1000 * s }, refusals }));
    const made = createEpochTimeline();
    made.add(epochs as unknown as readonly EpochResult[]);
    return made.result(['a', 'b'] as never);
  };
  it('are counted in tens of seconds, by what became of them', () => {
    expect(timeline([20, []], [29.9, []], [30, ['a', 'b']], [55, ['b']], [null, []])).toEqual({
      startMs: 20_000,
      binMs: 10_000,
      used: [2, 0, 0, 0],
      refused: [
        { code: 'a', counts: [0, 1, 0, 0] },
        { code: 'b', counts: [0, 1, 0, 1] },
      ],
    });
    expect(timeline([null, []])).toBeNull();
    expect(timeline()).toBeNull();
  });
  it('are drawn in 240 bins at most, each twice as long where they are more', () => {
    expect(timeline([0, []], [2399, []])).toMatchObject({ binMs: 10_000, used: { length: 240 } });
    const more = timeline([0, []], [10, ['a']], [2400, []]);
    expect(more).toMatchObject({ startMs: 0, binMs: 20_000, used: { length: 121 } });
    expect(more?.used[120]).toBe(1);
    expect(more?.refused[0]?.counts[0]).toBe(1);
  });
  it('are held in 4000 bins at most, of each kind, whatever is drawn', () => {
    const many = (kind: readonly string[], count: number) =>
      Array.from({ length: count }, (_, i) => [10 * i, kind] as const);
    for (const kind of [[], ['a']])
      for (const count of [4000, 4001, 8001]) {
        const made = timeline(...many(kind, count));
        const drawn = kind.length === 0 ? made?.used : made?.refused[0]?.counts;
        expect((drawn ?? []).reduce((a, b) => a + b, 0)).toBe(count);
      }
  });
});
