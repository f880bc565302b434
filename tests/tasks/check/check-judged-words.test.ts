import { describe, expect, it } from 'vitest';
import { judgedWords } from '../../../src/tasks/check/check-judged-words.js';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';

type Part = Pick<CheckRow, 'firstM' | 'secondM' | 'upM' | 'limits' | 'horizontalStatistic' | 'verticalStatistic'>;

const NEITHER: Part = {
  firstM: 0.01,
  secondM: 0.02,
  upM: 0.01,
  limits: [],
  horizontalStatistic: null,
  verticalStatistic: null,
};
const BY_UNCERTAINTY: Part = { ...NEITHER, horizontalStatistic: 1.2, verticalStatistic: 0.4 };
const words = (...rows: readonly Part[]): string | null => judgedWords(rows as readonly CheckRow[]);

describe('judgedWords', () => {
  it('says once what judged plan and height alike, and apart what did not', () => {
    expect(words(BY_UNCERTAINTY)).toBe('plan and height each by its stated uncertainty, no limit was set');
    expect(words({ ...BY_UNCERTAINTY, verticalStatistic: null })).toBe(
      'plan by its stated uncertainty, no limit was set, height by nothing: neither a limit nor an uncertainty is known',
    );
  });

  it('counts the comparisons that were judged each way, where they are of two', () => {
    expect(words(BY_UNCERTAINTY, NEITHER, BY_UNCERTAINTY)).toBe(
      'plan and height each 2 by its stated uncertainty, no limit was set; 1 by nothing: neither a limit nor an uncertainty is known',
    );
  });

  it('leaves out an axis that was not compared, and says nothing of none', () => {
    expect(words({ ...BY_UNCERTAINTY, upM: null })).toBe('plan by its stated uncertainty, no limit was set');
    expect(words({ ...BY_UNCERTAINTY, firstM: null, upM: null })).toBeNull();
    expect(words()).toBeNull();
  });
});
