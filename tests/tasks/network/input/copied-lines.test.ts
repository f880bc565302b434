import { describe, expect, it } from 'vitest';
import type { LineRow, Placed } from '../../../../src/records/network-rows.js';
import { copiedLines } from '../../../../src/tasks/network/input/copied-lines.js';

const LINE: Omit<LineRow, 'place'> = {
  ...{ fromId: 'A', toId: 'B', valueM: 12.3456, sigmaM: 0.004, fromUpM: 1.6, toUpM: 1.8, zenithDeg: null, air: null },
};
const LEVELLED = { ...LINE, fromUpM: 0, toUpM: 0 };
const lines = (list: readonly Omit<LineRow, 'place'>[]): readonly Placed<LineRow>[] =>
  list.map((value, index) => {
    const at = { line: index + 2, rank: index };
    return { value: { ...value, place: { ...at, sourceIndex: 0 } }, place: { ...at, source: 'lines.csv' } };
  });

describe('lines that are there twice', () => {
  it.each([
    ['a levelled difference', 'levelled difference', LEVELLED, LEVELLED],
    [
      'one from the other end',
      'levelled difference',
      LEVELLED,
      { ...LEVELLED, fromId: 'B', toId: 'A', valueM: -12.3456 },
    ],
    ['a distance', 'distance', LINE, LINE],
    ['one from the other end', 'distance', LINE, { ...LINE, fromId: 'B', toId: 'A', fromUpM: 1.8, toUpM: 1.6 }],
  ] as const)('count once, and are said: %s (%s)', (_, kind, first, second) => {
    const { lines: kept, problems } = copiedLines(lines([first, second, { ...first, toId: 'C' }]), kind);
    expect(kept.map(({ place }) => place.line)).toEqual([2, 4]);
    expect(problems.map(({ code, where, message }) => [code, where?.line, message])).toEqual([
      [
        'network-copied',
        3,
        `${kind} ${second.fromId} to ${second.toId} is that of lines.csv line 2, number for number`,
      ],
    ]);
  });

  it.each([
    ['levelled there and back, with its sign', 'levelled difference', { ...LEVELLED, fromId: 'B', toId: 'A' }],
    ['a tenth of a millimetre off', 'levelled difference', { ...LEVELLED, valueM: 12.3457 }],
    ['another target height', 'distance', { ...LINE, toUpM: 1.7 }],
    ['heights that stay with the wrong end', 'distance', { ...LINE, fromId: 'B', toId: 'A' }],
    ['another zenith angle', 'distance', { ...LINE, zenithDeg: 91 }],
  ] as const)('count twice: %s', (_, kind, second) => {
    const first = kind === 'distance' ? LINE : LEVELLED;
    const { lines: kept, problems } = copiedLines(lines([first, second]), kind);
    expect([kept.length, problems]).toEqual([2, []]);
  });

  it('doubts a sigma of 0.2 m and more: millimetres were typed', () => {
    const { lines: kept, problems } = copiedLines(
      lines([
        { ...LEVELLED, sigmaM: 4 },
        { ...LEVELLED, toId: 'C', sigmaM: 0.19 },
      ]),
      'levelled difference',
    );
    expect([kept.length, problems.map(({ code, where }) => [code, where?.line])]).toEqual([
      2,
      [['network-sigma-large', 2]],
    ]);
  });
});
