import { evaluate } from '../explanation/formula.js';

/** An equation of prose whose both sides are numbers: `√(6.0² + 3.5²) = 6.9 mm`. */
export interface ProseEquation {
  readonly text: string;
  readonly holds: boolean;
  /** Whether it holds for the numbers as they are written, without what they are rounded by. */
  readonly isExact: boolean;
  /** The numbers of its left side and that of its right one, as they are written. */
  readonly operands: readonly string[];
  readonly result: string;
}

const TOKEN = /\d+(?:\.\d+)?°?|[ +−×/()²³,√½¼]|sin|cos|tan|atan2|exp/gu;
const RIGHT = /^ = (?<number>−?\d+(?:\.\d+)?)(?<unit> ?(?:°|%|ppm|million|Mbit|MB))?(?<after>.{0,2})/u;
const NUMBER = /\d+(?:\.\d+)?/gu;
const UNITS: Readonly<Record<string, number>> = {
  '°': Math.PI / 180,
  '%': 0.01,
  ppm: 1e-6,
  million: 1e6,
  Mbit: 1e6,
  MB: 1e6,
};
/** As many as the decimals of the arithmetic that explanations are recomputed in. */
const ONE = 1e60;

/** Prose without what is run, and with its thousands together. */
export function proseOf(page: string): string {
  return page
    .replaceAll(/```[^`]*```/gu, '')
    .replaceAll(/\]\([^)]*\)/gu, ']')
    .replaceAll(/(?<=\d)[, ](?=\d{3}(?!\d))/gu, '')
    .replaceAll('\n', ' ');
}

/** The equations of prose; one holds where its right side can come of its left one, each number of it known to half its last digit. */
export function equationsOf(page: string): readonly ProseEquation[] {
  const prose = proseOf(page);
  return prose.split(' = ').flatMap((_, at, pieces): readonly ProseEquation[] => {
    const left = expressionAtEnd(pieces[at] ?? '');
    const found = RIGHT.exec(` = ${pieces[at + 1] ?? ''}`)?.groups;
    const { number: right = '', unit = '', after = '' } = found ?? {};
    // The number is part of more than a number.
    if (found === undefined || /^(?: ?[+−×/²³(√]|\.?\d)/u.test(after)) return [];
    const written = [...left.matchAll(NUMBER)].map(([number]) => number);
    const is = written.length < 2 ? null : valueOf(left, written);
    if (is === null) return [];
    // What half a last digit of each moves, one by one; whole numbers are exact.
    const reach = written.reduce((sum, number, index) => {
      const decimals = number.split('.')[1]?.length;
      if (decimals === undefined) return sum;
      const moved = valueOf(left, written.with(index, `${number}5`));
      return sum + Math.abs((moved ?? is) - is);
    }, 0);
    const stated = Number(right.replace('−', '-'));
    // A unit may be that of the left side too: parts in a million are added to such.
    const within = (most: number): boolean =>
      [UNITS[unit.trim()] ?? 1, 1].some(
        (factor) => Math.abs(is - stated * factor) <= most + halfDigitOf(right) * factor * (1 + 1e-9),
      );
    const numbers = { operands: written, result: right.replace('−', '') };
    return [{ text: `${left} = ${right}${unit}`, holds: within(reach), isExact: within(0), ...numbers }];
  });
}

function halfDigitOf(text: string): number {
  const decimals = text.split('.')[1]?.length ?? 0; // A whole number has none.
  return 0.5 * 10 ** -decimals;
}

/** The numbers and signs that a text ends with; empty where they are part of something with letters. */
function expressionAtEnd(text: string): string {
  let start = 0;
  let end = 0;
  for (const { 0: token, index } of text.matchAll(TOKEN)) {
    if (index !== end) start = index;
    end = index + token.length;
  }
  if (end !== text.length) return '';
  const before = text.slice(0, start).at(-1) ?? ' ';
  const own = text.slice(start).replace(/^[ ,)]+/u, '');
  return /[\p{L}\p{N}.^·_]/u.test(before) && !/^[ ,)]/u.test(text.slice(start)) ? '' : own;
}

/** The value with these numbers in the place of those written; null where it is no expression. */
function valueOf(text: string, numbers: readonly string[]): number | null {
  let at = 0;
  const formula = text
    .replaceAll(NUMBER, () => numbers[(at += 1) - 1] ?? '')
    .replaceAll('×', '·')
    .replaceAll(/(?<=\d) √/gu, '·√')
    .replaceAll(/½ ?/gu, '0.5·')
    .replaceAll(/¼ ?/gu, '0.25·')
    .replaceAll(/(sin|cos|tan) (\d+(?:\.\d+)?°)/gu, '$1($2)');
  try {
    const value = evaluate(formula, new Map());
    return typeof value === 'bigint' ? Number(value) / ONE : null;
  } catch {
    return null;
  }
}
