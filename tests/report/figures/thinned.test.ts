import { describe, expect, it } from 'vitest';
import { evenlyPicked } from '../../../src/report/figures/evenly-picked.js';
import { thinned, thinWords } from '../../../src/report/figures/thinned.js';
import type { MarkClass } from '../../../src/report/figures/thinned.js';

const classes = (good: number, doubt: number, bad: number): readonly MarkClass[] => [
  ...Array.from({ length: bad }, () => 'bad' as const),
  ...Array.from({ length: doubt }, () => 'doubt' as const),
  ...Array.from({ length: good }, () => 'mark' as const),
];

describe('what is left out of a figure', () => {
  const few = thinned(
    classes(500, 107, 27),
    (one) => one,
    (good) => evenlyPicked(good, 50),
  );

  it('is never what fails or is in doubt, and these lie on top', () => {
    expect(few.drawn.filter((one) => one === 'mark')).toHaveLength(50);
    expect(few.drawn.slice(50)).toEqual([...classes(0, 107, 0), ...classes(0, 0, 27)]);
  });

  it('is counted in words', () => {
    expect(thinWords(few, 'within', 'evenly picked')).toBe(
      ' Of 500 within 50 are drawn, evenly picked; all 134 others are drawn.',
    );
    const whole = thinned(
      classes(3, 1, 1),
      (one) => one,
      (good) => good,
    );
    expect(thinWords(whole, 'within', 'evenly picked')).toBe('');
  });
});
