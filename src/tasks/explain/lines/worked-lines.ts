import { formatFixed } from '../../../core/numeric/text/format-fixed.js';

/** How a number of an explanation is written: in which unit, how many of them make one of ours, and how many decimals. */
export interface NumberForm {
  readonly unit: string;
  readonly perOne: number;
  readonly decimals: number;
}

const form = (unit: string, perOne: number, decimals: number): NumberForm => ({ unit, perOne, decimals });

/** A length that a step starts from: two places more than what it is worked on with, so that results come out to their last digit. */
export const INPUT: NumberForm = form(' m', 1, 8);
/** A length that is worked on with. */
export const LENGTH: NumberForm = form(' m', 1, 6);
/** A length as it is written out. */
export const METRES: NumberForm = form(' m', 1, 4);
/** A small length or sigma that is worked on with; metres given. */
export const SMALL: NumberForm = form(' mm', 1000, 4);
/** A small length as it is written out; metres given. */
export const MILLIMETRES: NumberForm = form(' mm', 1000, 1);
/** A variance that is worked on with; m² given. */
export const VARIANCE: NumberForm = form(' mm²', 1e6, 6);
/** An angle that a step starts from, degrees given. */
export const INPUT_ANGLE: NumberForm = form('°', 1, 13);
/** An angle that is worked on with, degrees given. */
export const ANGLE: NumberForm = form('°', 1, 11);
/** A number without unit that is worked on with, of the order of one. */
export const NUMBER: NumberForm = form('', 1, 13);
/** The same, far below one. */
export const SMALL_NUMBER: NumberForm = form('', 1, 15);
/** A scale or elevation factor. */
export const FACTOR: NumberForm = form('', 1, 9);
export const SECONDS: NumberForm = form(' s', 1, 3);

/** The same with another count of decimals. */
export const withDecimals = (own: NumberForm, decimals: number): NumberForm => ({ ...own, decimals });
/** Of a term that a coordinate is worked from: its last digit moves none that is printed. */
export const NUMBER14: NumberForm = withDecimals(NUMBER, 14);
/** A coordinate with one digit more than is written to files. */
export const LENGTH5: NumberForm = withDecimals(LENGTH, 5);

/** A number in a form, with its unit. */
export const inForm = (value: number, { unit, perOne, decimals }: NumberForm): string =>
  `${formatFixed(value * perOne, decimals)}${unit}`;

/** `name = value`: what a step starts from. */
export const given = (name: string, value: number, own: NumberForm): string => `${name} = ${inForm(value, own)}`;

/** `name = value` with no more decimals than the value has, and no fewer than `least`. */
export function stated(name: string, value: number, own: NumberForm, least = 0): string {
  const text = formatFixed(value * own.perOne, own.decimals);
  let end = text.length;
  const point = text.indexOf('.');
  if (point >= 0) while (end > point + 1 + least && text[end - 1] === '0') end -= 1;
  if (end === point + 1) end = point;
  return `${name} = ${text.slice(0, end)}${own.unit}`;
}

/** `name = formula = value`: what a reader finds again with the numbers that stand above. */
export const worked = (name: string, formula: string, value: number, own: NumberForm): string =>
  `${name} = ${formula} = ${inForm(value, own)}`;

/** Several on one line. */
export const together = (...statements: readonly string[]): string => inOne(statements);

/** The same of a list. */
export const inOne = (statements: readonly string[]): string => statements.join('; ');

/** U+2080, the lowered 0; those of the other digits follow it. */
const LOWERED_ZERO = 0x2080;

/** A whole number as the lowered digits behind a name. */
export const lowered = (value: number): string =>
  Array.from(String(value), (digit) => String.fromCharCode(LOWERED_ZERO + digit.charCodeAt(0) - 48)).join('');
