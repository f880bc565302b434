import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { equationsOf } from './support/lessons/equations.js';
import { heldNumbers } from './support/lessons/held-numbers.js';
import { WORKED } from './support/lessons/worked-pages.js';
import { faultsOf, flatProse, numbersOf, openLesson } from './support/lessons/worked-numbers.js';
import { filesUnder, textOf } from './support/repository-files.js';

// Numbers of the lessons: what stands in a block is run (tests/docs.test.ts), and what prose works out is worked out again here.
const PAGES = filesUnder('docs/lessons', '.md').filter((path) => !path.endsWith('README.md'));
const workedOf = (path: string): (typeof WORKED)[string] => WORKED[basename(path)] ?? []; // A page may need none.

/** What may stand beside a number that comes from outside. */
const SOURCES = [
  ...[...textOf('docs/references.md').matchAll(/^- \*\*([A-Z\d-]+)\*\*/gmu)].map(([, key]) => key as string),
  'from memory',
  'common practice, no published source',
];

describe('numbers in the prose of lessons', () => {
  it.each(PAGES)('come of the numbers beside them: %s', (path) => {
    expect(
      equationsOf(textOf(path))
        .filter(({ holds }) => !holds)
        .map(({ text }) => text),
    ).toEqual([]);
  });

  it('are equations often enough to be worth reading', () => {
    expect(PAGES.flatMap((path) => equationsOf(textOf(path))).length).toBeGreaterThanOrEqual(80);
  });

  // Numbers with decimals, and whole ones with a unit.
  it.each(PAGES)('are run, worked out, or have their source beside them: %s', (path) => {
    const left = heldNumbers(textOf(path), workedOf(path), SOURCES).filter(
      ({ text, unit, by }) => by === null && (text.includes('.') || unit !== ''),
    );
    expect(left.map(({ near }) => near)).toEqual([]);
  });

  it.each(Object.keys(WORKED))('are what they are worked out to be, and no other: %s', async (page) => {
    const lesson = openLesson(page);
    const prose = flatProse(textOf(`docs/lessons/${page}`));
    for (const { says, are } of workedOf(page)) {
      const values = await are(lesson);
      expect(faultsOf(prose, says, values)).toEqual([]);
      // The last digit of each planted wrong by two.
      for (const { text, at } of numbersOf(prose, says) ?? [])
        expect(
          faultsOf(`${prose.slice(0, at)}${planted(text)}${prose.slice(at + text.length)}`, says, values).length,
          `${text} in: ${says}`,
        ).toBe(1);
    }
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

/** A number with its last digit larger or smaller by two. */
function planted(text: string): string {
  const digit = Number(text.at(-1));
  return `${text.slice(0, -1)}${digit < 8 ? digit + 2 : digit - 2}`;
}
