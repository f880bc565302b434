import { deservedDecimals } from '../../../core/numeric/text/deserved-decimals.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../core/numeric/text/utc-text.js';

/** What stands where a value is not known. */
export const UNKNOWN = '–';

/** Metres with the four decimals of the data files. */
export function metres(value: number | null): string {
  return fixed(value, 4);
}

/** Data files have no more. */
const MOST_DECIMALS = 4;

/** Metres of a coordinate or of its uncertainty, to a tenth of the latter (95 %); four decimals where it is not known. */
export function metresTo(value: number | null, uncertaintyM: number | null): string {
  return fixed(value, Math.min(MOST_DECIMALS, deservedDecimals(uncertaintyM) ?? MOST_DECIMALS));
}

/** A limit as it is thought of: three decimals, four where it has them. */
export function limitMetres(limitM: number): string {
  const exact = metres(limitM);
  return exact.endsWith('0') ? exact.slice(0, -1) : exact;
}

/** Metres to a millimetre beside a limit; to a tenth where that would hide on which side of the limit they lie. */
export function metresBeside(valueM: number, limitM: number | null): string {
  const rounded = fixed(valueM, 3);
  return limitM !== null && valueM !== limitM && rounded === fixed(limitM, 3) ? metres(valueM) : rounded;
}

export function millimetres(valueM: number | null, decimals: number = 1): string {
  return fixed(valueM === null ? null : valueM * 1000, decimals);
}

export function kilometres(valueM: number | null, decimals: number = 3): string {
  return fixed(valueM === null ? null : valueM / 1000, decimals);
}

/** A number with so many decimals and a true minus sign; a dash where it is not known. */
export function fixed(value: number | null, decimals: number): string {
  return value === null ? UNKNOWN : formatFixed(value, decimals).replace('-', '\u2212');
}

/** From so much on no decimal is read. */
const TOO_LARGE = 1e6;
const ZERO = 48;
const RAISED = '\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079';

/** A number with so many decimals; one of a million and more as three figures and a power of ten. */
export function readable(value: number | null, decimals: number): string {
  if (value === null || !Number.isFinite(value) || Math.abs(value) < TOO_LARGE) return fixed(value, decimals);
  const power = Math.floor(Math.log10(Math.abs(value)) + 1e-12);
  const raised = String(power).replaceAll(/\d/gu, (digit) => RAISED.charAt(digit.charCodeAt(0) - ZERO));
  return `${fixed(value / 10 ** power, 2)} × 10${raised}`;
}

/** Where on a figure: a tenth of a unit is finer than anything drawn. */
export function at(value: number): string {
  const text = formatFixed(value, 1);
  return text.endsWith('.0') ? text.slice(0, -2) : text;
}

/** A sentence of the terminal as a page prints it: its numbers with a true minus sign. Names and dates keep their hyphens. */
export function trueMinus(text: string): string {
  return text.replaceAll(/(^|[ (±,;:/])-(?=\d)/gu, '$1\u2212');
}

export function utc(valueMs: number | null): string {
  return valueMs === null ? UNKNOWN : formatUtc(valueMs);
}

/** Date without the time of day. */
export function utcDate(valueMs: number): string {
  return formatUtc(valueMs).slice(0, 10);
}

/** Time of day without its date, to the second. */
export function utcTime(valueMs: number): string {
  return formatUtc(valueMs).slice(11, 19);
}

/** Date and time of day of UTC, where the head of a column says so. Given: characters of the time, 5 without seconds. */
export function dateAndTime(valueMs: number, length: 5 | 8): string {
  return `${utcDate(valueMs)}, ${utcTime(valueMs).slice(0, length)}`;
}

/** An instant as people write it: date, time of day, and the scale of both. */
export function utcWords(valueMs: number, length: 5 | 8): string {
  return `${dateAndTime(valueMs, length)} UTC`;
}

/** A sentence whose instants in ISO 8601 are written as people write them. */
export function plainInstants(text: string): string {
  return text.replaceAll(/(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2}:\d{2})Z/gu, '$1, $2 UTC');
}

/** No axis needs more: a nanometre of a metre. */
const MOST_STEP_DECIMALS = 9;

/** Decimals that tell multiples of a step apart, nine at most. */
export function decimalsOfStep(step: number): number {
  return step > 0 ? Math.min(MOST_STEP_DECIMALS, Math.max(0, -Math.floor(Math.log10(step) + 1e-9))) : 0;
}

/** `1 point`, `2 points`. */
export function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
