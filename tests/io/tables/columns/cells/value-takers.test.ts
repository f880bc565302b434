import { describe, expect, it } from 'vitest';
import {
  createFiller,
  createNumberTaker,
  createTextTaker,
  MOST_NUMBERS,
  MOST_TEXTS,
} from '../../../../../src/io/tables/columns/cells/value-takers.js';
import { NO_NUMBER } from '../../../../../src/io/text/write-digits.js';

const counted = (count: number): readonly number[] => Array.from({ length: count }, (_, index) => index);

describe('the values of a row', () => {
  it.each(counted(MOST_NUMBERS + 1))('%i numbers are taken each into its own place', (count) => {
    const values = new Float64Array(MOST_NUMBERS).fill(-1);
    createNumberTaker<number>(counted(count).map((index) => (of) => (index === 2 ? null : of + index)))(1000, values);
    expect([...values.subarray(0, count)]).toEqual(
      counted(count).map((index) => (index === 2 ? NO_NUMBER : 1000 + index)),
    );
  });

  it.each(counted(MOST_TEXTS + 1))('%i texts are taken each into its own place', (count) => {
    const texts: unknown[] = [];
    createTextTaker<string>(counted(count).map((index) => (of) => (index === 2 ? null : `${of}${String(index)}`)))(
      'a',
      texts as never,
    );
    expect(texts.slice(0, count)).toEqual(counted(count).map((index) => (index === 2 ? null : `a${String(index)}`)));
  });

  it('are more than there is room for where nobody made any', () => {
    expect(() => createNumberTaker(counted(MOST_NUMBERS + 1).map(() => () => 1))).toThrow('columns of numbers');
    expect(() => createTextTaker(counted(MOST_TEXTS + 1).map(() => () => ''))).toThrow('columns of text');
  });

  it.each(counted(25))('%i cells are laid each into its own member, and empty ones into none', (count) => {
    const row: Record<string, unknown> = {};
    createFiller<Record<string, unknown>>(
      counted(count).map((index) => () => (index % 5 === 3 ? null : index)),
      counted(count).map((index) => (of: Record<string, unknown>, value: never) => {
        of[`m${String(index)}`] = value;
      }),
    )(row);
    expect(row).toEqual(
      Object.fromEntries(counted(count).flatMap((index) => (index % 5 === 3 ? [] : [[`m${String(index)}`, index]]))),
    );
  });
});
