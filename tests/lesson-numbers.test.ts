import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { equationsOf } from './support/lessons/equations.js';
import { heldNumbers } from './support/lessons/held-numbers.js';
import { WORKED } from './support/lessons/worked-pages.js';
import { faultsOf, flatProse, openLesson } from './support/lessons/worked-numbers.js';
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

/** Numbers that a wrong last digit is not noticed in: each has its source beside it. */
const UNNOTICED: Readonly<Record<string, readonly string[]>> = {
  'three-heights.md': ['107', '85'],
};

/** Numbers with decimals, and whole ones with a unit, that nothing holds. */
function unheld(page: string, path: string): ReturnType<typeof heldNumbers> {
  return heldNumbers(page, workedOf(path), SOURCES).filter(
    ({ text, unit, by }) => by === null && (text.includes('.') || unit !== ''),
  );
}

/** The same numbers of a page as it is written, outside code and links; 95 % is the name of a level. */
function numbersIn(page: string): readonly { text: string; at: number }[] {
  const prose = page.replaceAll(/```[^`]*```|`[^`]*`|\]\([^)]*\)/gu, (code) => ' '.repeat(code.length));
  return [...prose.matchAll(/(?<![\w.])(?:\d+\.\d+|\d+(?= ?[°″%]| (?:km|mm|[msh]|ppm)\b))/gu)]
    .map(({ 0: text, index }) => ({ text, at: index }))
    .filter(({ text }) => text !== '95');
}

describe('numbers in the prose of lessons', () => {
  it.each(PAGES)('come of the numbers beside them: %s', (path) => {
    expect(
      equationsOf(textOf(path))
        .filter(({ holds, isExact }) => !holds || !isExact)
        .map(({ text }) => text),
    ).toEqual([]);
  });

  it('are equations often enough to be worth reading', () => {
    expect(PAGES.flatMap((path) => equationsOf(textOf(path))).length).toBeGreaterThanOrEqual(80);
  });

  // Numbers with decimals, and whole ones with a unit.
  it.each(PAGES)('are run, worked out, or have their source beside them: %s', (path) => {
    const left = unheld(textOf(path), path);
    expect(left.map(({ near }) => near)).toEqual([]);
  });

  it.each(PAGES)('are what they are worked out to be, and a wrong last digit anywhere is noticed: %s', async (path) => {
    const lesson = openLesson(basename(path));
    const known: { says: string; values: readonly number[] }[] = [];
    for (const { says, are } of workedOf(path)) known.push({ says, values: await are(lesson) });
    lesson.close();
    const page = textOf(path);
    const prose = flatProse(page);
    expect(known.flatMap(({ says, values }) => faultsOf(prose, says, values))).toEqual([]);
    const isNoticed = (text: string): boolean => {
      const flat = flatProse(text);
      return (
        equationsOf(text).some(({ holds, isExact }) => !holds || !isExact) ||
        known.some(({ says, values }) => faultsOf(flat, says, values).length > 0) ||
        unheld(text, path).length > 0
      );
    };
    const unnoticed = numbersIn(page)
      .filter(({ text, at }) => !isNoticed(`${page.slice(0, at)}${planted(text)}${page.slice(at + text.length)}`))
      .map(({ text }) => text);
    expect(unnoticed).toEqual(UNNOTICED[basename(path)] ?? []); // Most pages have none.
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
