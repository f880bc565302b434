import { describe, expect, it } from 'vitest';
import { carriedNames, renamedColumnNotes } from '../../../../src/io/tables/columns/carried-names.js';
import type { DescribedColumn } from '../../../../src/io/tables/columns/column.js';
import { columnGroups, readWords, writtenWords } from '../../../../src/io/tables/columns/column-words.js';
import { AS_GIVEN } from '../../../../src/io/tables/columns/cells/decimals.js';

const column = (own: Partial<DescribedColumn>): DescribedColumn => ({
  name: 'c',
  kind: 'number',
  describe: '',
  isNeeded: false,
  isFilled: false,
  decimals: 3,
  ...own,
});

describe('what cells of a column may be, in words', () => {
  it.each<readonly [string, Partial<DescribedColumn>, string]>([
    ['a range', { range: [0, 90] }, '0 to 90'],
    ['a range on both sides of nothing', { range: [-90, 90] }, '−90 to 90'],
    ['thousands', { range: [1000, 9999] }, '1000 to 9999'],
    ['tens of thousands, in threes', { range: [-10_000, 12_345] }, '−10 000 to 12 345'],
    ['hundreds of thousands', { range: [123_456, 999_999] }, '123 456 to 999 999'],
    ['decimals', { range: [0.05, 10_000.5] }, '0.05 to 10 000.5'],
    ['no upper bound', { range: [0, 1e6] }, '0 and above'],
    ['no bound that says anything', { range: [-1e6, 1e6] }, 'any number'],
    ['a lower bound that says something', { range: [-999_999, 1e7] }, '−999 999 and above'],
    ['an upper bound that says something', { range: [-1e7, 500] }, '−10 000 000 to 500'],
    ['no range', {}, 'any number'],
    ['whole numbers', { kind: 'whole', range: [1, 99] }, 'whole, 1 to 99'],
    ['a latitude', { kind: 'latitude' }, '−90 to 90'],
    ['a longitude', { kind: 'longitude' }, '−180 to 360'],
    ['a direction', { kind: 'direction', range: [0, 360] }, '0 to 360'],
    ['a time', { kind: 'time' }, 'ISO 8601, UTC'],
    ['yes or no', { kind: 'yes-no' }, '`yes` or `no`'],
    [
      'words',
      {
        kind: 'word',
        words: new Map([
          ['fit', 1],
          ['check', 2],
        ]),
      },
      '`fit`, `check`',
    ],
    ['words that are not listed', { kind: 'word' }, 'text'],
    ['codes', { kind: 'codes' }, 'codes'],
    ['an identifier', { kind: 'id' }, 'text'],
    ['what the column says itself', { holds: 'its own words', range: [0, 1] }, 'its own words'],
  ])('%s', (_, own, expected) => {
    expect(readWords(column(own))).toBe(expected);
  });

  it.each<readonly [Partial<DescribedColumn>, string]>([
    [{ unit: 'm', decimals: 3 }, 'm, 3 decimals'],
    [{ decimals: 1 }, '1 decimal'],
    [{ decimals: 0 }, 'whole'],
    [{ decimals: AS_GIVEN }, 'as given'],
    [{ kind: 'angle', unit: 'deg', decimals: 4 }, 'deg, 4 decimals'],
    [{ kind: 'whole', decimals: 0 }, 'whole'],
    [{ kind: 'text' }, 'text'],
    [{ kind: 'codes' }, 'codes'],
    [{ kind: 'time' }, 'ISO 8601, UTC'],
    [{ kind: 'yes-no' }, '`yes` or `no`'],
  ])('of %j that is written: %s', (own, expected) => {
    expect(writtenWords(column(own))).toBe(expected);
  });

  it('puts neighbours that are described alike together, and no others', () => {
    const columns = [
      ['a', 'x'],
      ['b', 'x'],
      ['c', 'y'],
      ['d', 'x'],
    ].map(([name, describe]) => column({ name, describe } as Partial<DescribedColumn>));
    expect(columnGroups(columns).map(({ names }) => names)).toEqual([['a', 'b'], ['c'], ['d']]);
    expect(columnGroups([])).toEqual([]);
  });
});

describe('names of columns that are carried', () => {
  it('stay, but for those of ours, before which a word is put until the name is free', () => {
    const own = ['point_id', 'note'];
    expect(carriedNames(own, ['crew', 'Weather'])).toEqual({ names: ['crew', 'Weather'], renamed: [] });
    expect(carriedNames(own, [' Note ', 'crew'])).toEqual({
      names: ['input_Note', 'crew'],
      renamed: [{ from: ' Note ', to: 'input_Note' }],
    });
    expect(carriedNames(own, ['NOTE', 'input_note']).names).toEqual(['input_input_NOTE', 'input_note']);
    expect(carriedNames(own, ['note', 'Note']).names).toEqual(['input_note', 'input_input_Note']);
  });

  it('that were changed are said: twelve by name, and how many more', () => {
    const notes = (count: number): readonly string[] => {
      const names = Array.from({ length: count }, (_, index) => `n${String(index)}`);
      return renamedColumnNotes(carriedNames(names, names)).map(({ message }) => message);
    };
    expect(notes(0)).toEqual([]);
    expect(notes(1)).toEqual([
      'columns of the input that have the name of one of ours are written under another: n0 as input_n0',
    ]);
    expect(notes(12)[0]).toMatch(/n11 as input_n11$/u);
    expect(notes(15)[0]).toMatch(/n11 as input_n11, and 3 more$/u);
  });
});
