import type { AngleAxis } from './angle-text.js';
import { parseAngle } from './angle-text.js';
import { parseDecimal } from './decimal-text.js';

/** How angles of a file are written: their unit, and for degrees, minutes and seconds run together which digits are which. */
export type AngleWriting = 'deg' | 'gon' | 'rad' | 'dms' | 'DDMMSS' | 'DDMM' | 'D.MMSS';
export const ANGLE_FORMS = ['DDMMSS', 'DDMM', 'D.MMSS'] as const;

/** Reads an angle: degrees, north and east positive; null where the text is none in this writing. */
export type AngleReader = (text: string) => number | null;

const FACTOR_DEG: Readonly<Partial<Record<AngleWriting, number>>> = { gon: 0.9, rad: 180 / Math.PI };
/** Digits of whole degrees stand before four of minutes and seconds, or two of minutes. */
const PACKED: Readonly<Partial<Record<AngleWriting, RegExp>>> = {
  DDMMSS: /^(?<degrees>\d{1,3})(?<minutes>\d{2})(?<seconds>\d{2}(?:\.\d*)?)$/u,
  DDMM: /^(?<degrees>\d{1,3})(?<minutes>\d{2}(?:\.\d*)?)$/u,
  'D.MMSS': /^(?<degrees>\d{1,3})(?:\.(?<minutes>\d{2})(?<seconds>\d{2})(?<rest>\d*))?$/u,
};
const LETTERS: Readonly<Record<AngleAxis, string>> = { latitude: 'NS', longitude: 'EW', any: '' };

/**
 * A reader of angles in one writing.
 *
 * Given: the writing; the axis, which says the letters allowed; whether the decimal mark is a comma. `deg` takes decimal degrees and
 * degrees, minutes and seconds set apart, `dms` only the latter; `DDMMSS` is 254355.302, `DDMM` 2543.92170, `D.MMSS` 25.4355302.
 * Returned: the reader. Minutes and seconds of 60 or more are no angle; the range is not looked at.
 */
export function angleReader(writing: AngleWriting, axis: AngleAxis, decimalComma: boolean): AngleReader {
  const factor = FACTOR_DEG[writing];
  if (factor !== undefined) {
    return (text) => {
      const value = parseDecimal(text, decimalComma);
      return value === null ? null : value * factor;
    };
  }
  const packed = PACKED[writing];
  if (packed !== undefined) return packedReader(packed, axis, decimalComma);
  return (text) => {
    if (writing === 'dms' && parseDecimal(text, decimalComma) !== null) return null;
    // The axis of the angle only brings its letters: what lies outside its range is for who asks.
    const angle = parseAngle(text, axis, decimalComma);
    if (angle.ok) return angle.value;
    return angle.problems.some(({ code }) => code.endsWith('-out-of-range')) ? parseWide(text, decimalComma) : null;
  };
}

/** An angle outside the range of its axis, so that who asks can say which range. */
function parseWide(text: string, decimalComma: boolean): number | null {
  const wide = parseAngle(text.replace(/[NSEW]/giu, ''), 'any', decimalComma);
  return wide.ok ? wide.value : null;
}

function packedReader(pattern: RegExp, axis: AngleAxis, decimalComma: boolean): AngleReader {
  return (text) => {
    let body = text.trim().replace(/[\u2212\u2013]/gu, '-');
    if (decimalComma) body = body.replace(',', '.');
    const match = /^(?<before>[NSEW]?)\s*(?<sign>[+-]?)(?<digits>[\d.]+)\s*(?<after>[NSEW]?)$/iu.exec(body)?.groups;
    if (match === undefined) return null;
    // A letter stands before or after the digits, or nowhere.
    const [before = '', after = ''] = [match['before'], match['after']];
    const letter = `${before}${after}`.toUpperCase();
    // The group is in every match.
    const sign = match['sign'] ?? '';
    if (letter.length > 1 || (letter !== '' && (sign !== '' || !LETTERS[axis].includes(letter)))) return null;
    // The group is in every match.
    const found = pattern.exec(match['digits'] ?? '')?.groups;
    if (found === undefined) return null;
    const degrees = numberOf(found['degrees'] ?? '0');
    const minutes = numberOf(found['minutes'] ?? '0');
    const seconds = numberOf(`${found['seconds'] ?? '0'}${found['rest'] === undefined ? '' : `.${found['rest']}0`}`);
    if (minutes >= 60 || seconds >= 60) return null;
    const size = (degrees * 3600 + minutes * 60 + seconds) / 3600;
    return sign === '-' || letter === 'S' || letter === 'W' ? 0 - size : size;
  };
}

/** Digits that a pattern has found. */
function numberOf(digits: string): number {
  return parseDecimal(digits) ?? Number.NaN;
}
