import { formatFixed } from '../../../core/numeric/text/format-fixed.js';

/** A number already written, which goes into the document as it is, so that every format has the same digits. */
export interface RawNumber {
  readonly raw: string;
}

/** What a document is made of. */
export type RawJson = string | boolean | null | RawNumber | readonly RawJson[] | { readonly [name: string]: RawJson };

/** A number with so many decimals; null stays null. */
export function fixedNumber(value: number | null, decimals: number): RawNumber | null {
  return value === null ? null : { raw: formatFixed(value, decimals) };
}

/** A number with the digits that it has. */
export function wholeNumber(value: number): RawNumber {
  return { raw: String(value) };
}

/** The text of a document, on one line. */
export function rawJsonText(value: RawJson): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map((item: RawJson) => rawJsonText(item)).join(',')}]`;
  if (isRaw(value)) return value.raw;
  return `{${Object.entries(value)
    .map(([name, inner]: [string, RawJson]) => `${JSON.stringify(name)}:${rawJsonText(inner)}`)
    .join(',')}}`;
}

function isRaw(value: object): value is RawNumber {
  return 'raw' in value && typeof value.raw === 'string';
}
