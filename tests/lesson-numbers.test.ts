import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { equationsOf, proseOf } from './support/lessons/equations.js';
import { ROOT, filesUnder } from './support/repository-files.js';

// Numbers of the lessons: what stands in a block is run (tests/docs.test.ts), and what prose works out is worked out again here.
const PAGES = filesUnder('docs/lessons', '.md').filter((path) => !path.endsWith('README.md'));
const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

/** The page's numbers with decimals that neither a block that is run holds nor an equation of its prose. */
function unheld(page: string): readonly string[] {
  const run = [...page.matchAll(/```[^`]*```|`[^`]*`/gu)].map(([block]) => block).join(' ');
  const held = new Set([
    ...[...run.matchAll(/\d+(?:\.\d+)?/gu)].map(([number]) => number),
    ...equationsOf(page).flatMap(({ numbers }) => numbers),
  ]);
  return [
    ...proseOf(page)
      .replaceAll(/`[^`]*`/gu, '')
      .matchAll(/(?<![\w.])\d+\.\d+/gu),
  ]
    .map(([number]) => number)
    .filter((number) => !held.has(number) && ![...held].some((one) => isRounded(Number(one), number)));
}

/** Whether a number is another one, in metres or millimetres, rounded. */
function isRounded(full: number, text: string): boolean {
  const decimals = text.split('.')[1]?.length ?? 0; // A whole number has none.
  return [1, 1000, 0.001].some((factor) => (full * factor).toFixed(decimals) === text);
}

/** How many numbers of a page nothing recomputes yet. It may only shrink: whoever adds a number adds its equation or its run. */
const LEFT: Readonly<Record<string, number>> = {
  'adjustment-and-reliability.md': 29,
  'antenna-to-tip.md': 4,
  'base-coordinate.md': 2,
  'correction-stream.md': 9,
  'ellipse-and-circle.md': 29,
  'five-seconds.md': 1,
  'frames-and-epochs.md': 25,
  'grid-ellipsoid-ground.md': 8,
  'heights-between-benchmarks.md': 5,
  'planning-the-sky.md': 4,
  'site-fit-and-leverage.md': 19,
  'siting-a-base.md': 4,
  'three-heights.md': 3,
};

describe('numbers in the prose of lessons', () => {
  it.each(PAGES)('come of the numbers beside them: %s', (path) => {
    expect(
      equationsOf(textOf(path))
        .filter(({ holds }) => !holds)
        .map(({ text }) => text),
    ).toEqual([]);
  });

  it('are equations often enough to be worth reading', () => {
    expect(PAGES.flatMap((path) => equationsOf(textOf(path))).length).toBeGreaterThanOrEqual(36);
  });

  it.each(PAGES)('are run, or worked out, but for no more than are listed: %s', (path) => {
    const left = unheld(textOf(path));
    expect(left.length, left.join(' ')).toBe(LEFT[basename(path)] ?? 0); // A page that is not listed has none.
  });

  it('are found wrong where they are changed by a third', () => {
    for (const path of PAGES)
      for (const { text } of equationsOf(textOf(path))) {
        const [left = '', right = ''] = text.split(' = ');
        const number = /[\d.]+/u.exec(right)?.[0] ?? '';
        // A third more, which no rounding of what stands on the left makes.
        const wrong = (1.34 * Number(number)).toFixed(number.split('.')[1]?.length ?? 0);
        const planted = `${left} = ${right.replace(number, wrong)}`;
        const [again] = equationsOf(`so ${planted}, and`);
        expect(again?.holds, `${path}: ${planted}`).toBe(false);
      }
  });
});
