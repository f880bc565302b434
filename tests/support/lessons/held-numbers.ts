import { equationsOf } from './equations.js';
import { flatProse, numbersOf } from './worked-numbers.js';
import type { Worked } from './worked-numbers.js';

/** A number of prose, and what says that it is right; null where nothing does. */
export interface HeldNumber {
  readonly text: string;
  readonly unit: string;
  readonly near: string;
  readonly by: 'worked out' | 'equation' | 'printed' | 'source' | 'level' | 'repeated' | null;
}

/** How large a unit is in that of its kind, and which kind. */
const UNITS: Readonly<Record<string, readonly [kind: string, size: number]>> = {
  km: ['m', 1000],
  m: ['m', 1],
  mm: ['m', 0.001],
  'mm²': ['m²', 1e-6],
  s: ['s', 1],
  h: ['s', 3600],
  '°': ['°', 1],
  '″': ['″', 1],
  '"': ['″', 1],
  '%': ['%', 1],
  ppm: ['ppm', 1],
  'mm/km': ['ppm', 1],
};
const UNIT = String.raw`(?: ?[°″"%]| (?:km|mm/km|mm²|mm|ppm|[hms])(?![\p{L}\d²/]))?`;
const NUMBER = new RegExp(String.raw`(?<![\w.])(?<text>\d+(?:\.\d+)?)(?<unit>${UNIT})`, 'gu');

interface Quantity {
  readonly text: string;
  readonly unit: string;
  readonly at: number;
}

function quantitiesOf(text: string): readonly Quantity[] {
  const all = [...text.matchAll(NUMBER)].map(({ 0: whole, groups, index }) => ({
    text: groups?.['text'] ?? '', // Every match has both.
    unit: (groups?.['unit'] ?? '').trim(),
    at: index,
    end: index + whole.length,
  }));
  // Of “42.3 and 36.1 mm” the unit is that of both.
  return all.map((one, index) => {
    const next = all[index + 1];
    const isShared = one.unit === '' && next !== undefined && /^ (?:and|to) [+−]?$/u.test(text.slice(one.end, next.at));
    return isShared ? { ...one, unit: next.unit } : one;
  });
}

/** Whether a quantity of prose is one that is printed, rounded to the digits of the prose. */
function isOf(said: Quantity, printed: Quantity): boolean {
  if (printed.text === said.text && (printed.unit === said.unit || printed.unit === '' || said.unit === ''))
    return true;
  const decimals = said.text.split('.')[1]?.length ?? 0; // A whole number has none.
  const [own, other] = [UNITS[said.unit], UNITS[printed.unit]];
  if (own !== undefined && other !== undefined && own[0] !== other[0]) return false;
  // Without units on both sides few digits say nothing: many numbers round to them.
  if ((own === undefined || other === undefined) && said.text.replace(/^0\.0*|\./u, '').length < 3) return false;
  const factors = own !== undefined && other !== undefined ? [other[1] / own[1]] : [1];
  return factors.some((factor) => (Number(printed.text) * factor).toFixed(decimals) === said.text);
}

/** The numbers of a page's prose with decimals, or those that are whole and have a unit, and what holds each. */
export function heldNumbers(
  page: string,
  worked: readonly Worked[],
  sources: readonly string[],
): readonly HeldNumber[] {
  const prose = flatProse(page);
  const plain = prose.replaceAll(/`[^`]*`/gu, (code) => ' '.repeat(code.length));
  const printed = quantitiesOf([...page.matchAll(/```[^`]*```/gu)].map(([block]) => block).join('\n'));
  const equations = new Set(equationsOf(page).map(({ result }) => result));
  const places = new Set(worked.flatMap(({ says }) => numbersOf(prose, says) ?? []).map(({ at }) => at));
  const found = quantitiesOf(plain).map((said): HeldNumber => {
    const after = plain.slice(said.at).split(/(?<=[.:?!])\s/u)[0] ?? '';
    return {
      text: said.text,
      unit: said.unit,
      near: plain.slice(Math.max(0, said.at - 60), said.at + 40),
      by: places.has(said.at)
        ? 'worked out'
        : equations.has(said.text)
          ? 'equation'
          : printed.some((one) => isOf(said, one))
            ? 'printed'
            : said.text === '95' && said.unit === '%'
              ? 'level'
              : sources.some((source) => after.includes(source))
                ? 'source'
                : null,
    };
  });
  // Of the same digits in two places one is held.
  const held = new Set(found.filter(({ by }) => by !== null).map(({ text }) => text));
  return found.map((one) => (one.by === null && held.has(one.text) ? { ...one, by: 'repeated' } : one));
}
