import { describe, expect, it } from 'vitest';
import { baseLines } from '../../../src/tasks/draft/draft-bases.js';
import type { BaseEpoch } from '../../../src/tasks/draft/draft-bases.js';

const at = (id: string, ...times: readonly string[]): readonly BaseEpoch[] =>
  times.map((time) => ({ id, ms: Date.parse(`2026-03-${time}Z`) }));

/** Each set-up as its base and the times that it is drafted for. */
function setUps(epochs: readonly BaseEpoch[]): readonly string[] {
  const found = new Map<string, string[]>();
  for (const { path, value } of baseLines(epochs, 'Base')) {
    const [, key = '', name] = path;
    if (name === 'broadcast') continue;
    found.set(key, [
      ...(found.get(key) ?? []),
      (typeof value === 'string' ? value : '?').replace(/^2026-03-(.{8}).*$/u, '$1'),
    ]);
  }
  return [...found.values()].map((parts) => parts.join(' '));
}

describe('the set-ups of bases that a file names', () => {
  it('last from the minute of the first epoch to the end of that of the last, in any order of rows', () => {
    const epochs = at('B1', '04T06:10:59.900', '04T06:00:00', '04T09:59:00');
    expect(setUps(epochs)).toEqual(['B1 04T06:00 04T10:00']);
    const [id, from] = baseLines(epochs, 'Base');
    expect(id?.why).toEqual(['"Base" names it in 3 rows']);
    expect(from?.why).toEqual(['first and last epoch with it: 2026-03-04T06:00:00Z, 2026-03-04T09:59:00Z']);
  });

  it.each<readonly [string, readonly BaseEpoch[], readonly string[]]>([
    [
      'one a base',
      [...at('B1', '04T06:00:00'), ...at('B2', '04T06:00:30')],
      ['B1 04T06:00 04T06:01', 'B2 04T06:00 04T06:01'],
    ],
    ['one through a silence within a day', at('B1', '04T01:00:00', '04T23:00:00'), ['B1 04T01:00 04T23:01']],
    [
      'one over midnight where the work goes on',
      at('B1', '04T21:00:00', '04T23:59:00', '05T03:00:00'),
      ['B1 04T21:00 05T03:01'],
    ],
    [
      'two where four hours of silence lead into another day',
      at('B1', '04T22:00:00', '05T02:00:00'),
      ['B1 04T22:00 04T22:01', 'B1 05T02:00 05T02:01'],
    ],
    ['one where the silence is a second shorter', at('B1', '04T22:00:01', '05T02:00:00'), ['B1 04T22:00 05T02:01']],
    [
      'three on three days',
      at('B1', '06T08:00:00', '04T08:00:00', '05T08:00:00', '05T09:00:00'),
      ['B1 06T08:00 06T08:01', 'B1 04T08:00 04T08:01', 'B1 05T08:00 05T09:01'],
    ],
    ['one without times', [{ id: 'B1', ms: null }], ['B1']],
  ])('are %s', (_, epochs, expected) => {
    expect(setUps(epochs)).toEqual(expected);
  });

  it('are a pattern to fill in where the file names none', () => {
    const lines = baseLines([], null);
    expect(lines.every(({ isOffered }) => isOffered === true)).toBe(true);
    expect(lines.map(({ path }) => path.join('.'))).toEqual(['base..id', 'base..broadcast']);
  });
});
