import { describe, expect, it } from 'vitest';
import type { RepeatGroup } from '../../../../src/tasks/check/compare/check-tolerances-repeats.js';
import { dayThatIsOdd } from '../../../../src/tasks/check/compare/day-that-is-odd.js';

const DAYS = ['monday', 'tuesday', 'wednesday'];
const group = (pointId: string, odd: string | null, own: Partial<RepeatGroup> = {}): RepeatGroup =>
  ({
    ...{ pointId, odd, cause: { cause: 'pole-length' } },
    occupations: DAYS.map((day) => `${day}/1`),
    ...own,
  }) as unknown as RepeatGroup;
const AGREES = group('Q', null, { cause: null });
const two = (...days: readonly string[]): Partial<RepeatGroup> => ({ occupations: days.map((day) => `${day}/2`) });

describe('a day whose occupations stand alone', () => {
  const three = ['A', 'B', 'C'].map((id) => group(id, 'tuesday/1'));

  it('is named at three points and more, beside those of two occupations that it is one of', () => {
    expect(dayThatIsOdd([...three, AGREES])).toEqual({ day: 'tuesday', count: 3, of: 3 });
    expect(dayThatIsOdd([...three, group('D', null, two('monday', 'tuesday'))])).toEqual({
      ...{ day: 'tuesday', count: 3, of: 4 },
    });
  });

  it.each([
    ['two points are no pattern', three.slice(1)],
    ['one point has another day', [...three, group('D', 'monday/1')]],
    ['one that disagrees was not occupied on it', [...three, group('D', null, two('monday', 'wednesday'))]],
    ['occupations are of no job', ['A', 'B', 'C'].map((id) => group(id, '2'))],
    ['one that stands alone was joined of two days', [...three, group('D', 'monday/1+tuesday/1')]],
    ['nothing disagrees', [AGREES]],
  ])('is none: %s', (_, groups) => {
    expect(dayThatIsOdd(groups)).toBeNull();
  });
});
