import { describe, expect, it } from 'vitest';
import { xyDrawing } from '../../../src/report/figures/drawings/xy-drawing.js';
import type { XyContent, XyPoint } from '../../../src/report/figures/drawings/xy-drawing.js';

const AXES = { id: 'f', title: 't', description: 'd', acrossTitle: 'across', upTitle: 'up', width: 760, height: 340 };
const drawn = (own: Pick<XyContent, 'points' | 'lines'> & Partial<XyContent>): string =>
  xyDrawing({ ...AXES, ...own }).body.html;
/** Words with their classes: where they begin, stand in the middle or end, and their baseline. */
const wordsOf = (
  html: string,
): readonly { readonly text: string; readonly x: number; readonly y: number; readonly classes: string }[] =>
  [...html.matchAll(/<text x="([^"]+)" y="([^"]+)" class="([^"]*)">([^<]*)<\/text>/gu)].map(
    ([, x, y, classes = '', text = '']) => ({ text, x: Number(x), y: Number(y), classes }),
  );
/** Level lines of a class by where they are drawn. */
const levelsOf = (html: string, classes: string): readonly number[] =>
  [...html.matchAll(new RegExp(`<path class="${classes}" d="M[\\d.]+ ([\\d.]+)H[\\d.]+"`, 'gu'))].map(([, y]) =>
    Number(y),
  );
/** A line strikes a word through where it goes between the feet and the heads of its letters: a small letter is some six high. */
const isStruck = (y: number, line: number): boolean => line < y - 1 && line > y - 7;

describe('words of figures over two axes', () => {
  it('stand clear of the line of nought', () => {
    // Sets that are near their nominal values, as those of a sound instrument are.
    const points = Array.from({ length: 12 }, (_, index): XyPoint => ({
      x: index + 1,
      y: ((index * 5) % 7) - 3,
      name: `${String(index + 1)}.1`,
      symbol: 'circle',
      classes: 'mark',
    }));
    const html = drawn({
      points,
      lines: [],
      limits: [
        { y: 60, word: 'limit' },
        { y: -60, word: '' },
      ],
      from: { x: 0, y: 0 },
    });
    const [nought = NaN] = levelsOf(html, 'axis');
    const names = wordsOf(html).filter(({ text }) => text.endsWith('.1'));
    expect(names).toHaveLength(12);
    expect(names.filter(({ y }) => isStruck(y, nought))).toEqual([]);
  });

  it('do not break the curve that they name, nor stand on a level line', () => {
    const curve = (word: string, slope: number): XyContent['lines'][number] => ({
      places: Array.from({ length: 21 }, (_, x) => ({ x, y: 20 + slope * x })),
      classes: 'blue',
      word,
    });
    const html = drawn({
      points: [],
      lines: [curve('quiet', 0.02), curve('normal', 1)],
      limits: [{ y: 20.5, word: '' }],
      from: { x: 0, y: 0 },
    });
    const [level = NaN] = levelsOf(html, 'off dash');
    const words = wordsOf(html).filter(({ text }) => text === 'quiet' || text === 'normal');
    expect(words).toHaveLength(2);
    const curves = [...html.matchAll(/<path class="blue" d="M([^"]+)"/gu)].map(([, path = '']) =>
      path.split('L').map((pair) => pair.split(' ').map(Number)),
    );
    expect(curves.map((places) => places.length)).toEqual([21, 21]);
    for (const { y, x, classes } of words) {
      expect(isStruck(y, level)).toBe(false);
      // Six letters of some six units each.
      const [left, right] = classes.startsWith('e ')
        ? [x - 36, x]
        : classes.startsWith('m ')
          ? [x - 18, x + 18]
          : [x, x + 36];
      const on = curves.flat().filter(([atX = NaN, atY = NaN]) => atX > left && atX < right && isStruck(y, atY));
      expect(on).toEqual([]);
    }
  });

  it('leave room for long numbers beside the title of their axis', () => {
    const html = drawn({
      points: [{ x: 1, y: 5_000_000, name: '', symbol: 'circle', classes: 'mark' }],
      lines: [],
      from: { x: 0, y: 0 },
    });
    const ticks = wordsOf(html).filter(({ classes }) => classes === 'e s q');
    const longest = Math.max(...ticks.map(({ text }) => text.length));
    expect(longest).toBe(7);
    const title = Number(/translate\(([\d.]+) /u.exec(html)?.[1]);
    // The title is upright: half of its ten units and a little room.
    expect((ticks[0]?.x ?? 0) - 6.2 * longest).toBeGreaterThan(title + 5);
  });
});
