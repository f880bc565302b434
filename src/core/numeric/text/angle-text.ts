import { InternalError } from '../../../records/internal-error.js';
import type { Outcome } from '../../../records/outcome.js';
import { failure, success } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';
import { errorProblem } from '../../../records/problem.js';
import { parseDecimal } from './decimal-text.js';

/** What an angle is: it decides the letters allowed and the range. `any` takes no letter and has no range. */
export type AngleAxis = 'latitude' | 'longitude' | 'any';

const NUMBER = String.raw`(\d+(?:\.\d+)?)`;
/** `25°43'55.302"`: each part with its mark, parts from the right may be left out. */
const MARKED = new RegExp(String.raw`^${NUMBER}° *(?:${NUMBER}' *(?:${NUMBER}")?)?$`);
/** `25:43:55.302` or `25:43.9217`. */
const COLONS = new RegExp(String.raw`^${NUMBER}:${NUMBER}(?::${NUMBER})?$`);
/** `25 43 55.302` or `25 43.9217`. */
const SPACED = new RegExp(String.raw`^${NUMBER} +${NUMBER}(?: +${NUMBER})?$`);
const PLAIN = new RegExp(`^${NUMBER}$`);
const PACKED = /^\d{5,7}(?:\.\d*)?$/;

/**
 * An angle from text, strictly.
 *
 * Grammar: decimal degrees, or degrees with minutes, or degrees with minutes and seconds, set apart
 * by marks, by colons or by spaces. One sign in front, or one hemisphere letter in front or behind,
 * never both. Only the last part may have decimals; minutes and seconds are below 60. The degree,
 * prime and minus signs of Unicode count as the plain ones.
 *
 * Given: text; the axis; whether the decimal mark is a comma. Returned: degrees, north and east
 * positive. Problems: `angle-syntax`, `latitude-out-of-range` (−90…90), `longitude-out-of-range`
 * (−180…360). Inverse: `formatDms`.
 *
 * @example
 * // GDA2020-TM, worked example, azimuth to Buninyong
 * parseAngle('306:52:05.37', 'any').value; // 306.868158
 * parseAngle('25 43 55.302 S', 'latitude').value; // -25.732028333
 */
export function parseAngle(text: string, axis: AngleAxis, decimalComma = false): Outcome<number> {
  const decimal = parseDecimal(text, decimalComma);
  if (decimal !== null) return inRange(decimal + 0, axis, text);
  let body = plainMarks(text);
  if (decimalComma) {
    if (body.includes('.')) return syntax(text, 'it holds a point although the decimal mark is a comma');
    body = body.replaceAll(',', '.');
  }
  const sign = body.startsWith('-') ? '-' : body.startsWith('+') ? '+' : '';
  body = body.slice(sign.length).trimStart();
  const before = /^[NSEW]/i.exec(body)?.[0] ?? '';
  body = body.slice(before.length).trimStart();
  const after = /[NSEW]$/i.exec(body)?.[0] ?? '';
  body = body.slice(0, body.length - after.length).trimEnd();
  const letter = (before + after).toUpperCase();
  if (letter.length > 1) return syntax(text, 'it has two hemisphere letters');
  if (letter !== '' && sign !== '') return syntax(text, 'it has both a sign and a hemisphere letter');
  if (letter !== '' && !lettersOf(axis).includes(letter))
    return syntax(text, `${letter} is not a direction of ${nameOf(axis)}`);
  const parts = MARKED.exec(body) ?? COLONS.exec(body) ?? SPACED.exec(body) ?? PLAIN.exec(body);
  if (parts === null) return syntax(text, 'it is neither decimal degrees nor degrees, minutes and seconds');
  const [, degreesText = '', minutesText, secondsText] = parts;
  if (minutesText !== undefined && degreesText.includes('.'))
    return syntax(text, 'only the last part may have decimals');
  if (secondsText !== undefined && minutesText?.includes('.') === true)
    return syntax(text, 'only the last part may have decimals');
  const degrees = parseDecimal(degreesText);
  const minutes = parseDecimal(minutesText ?? '0');
  const seconds = parseDecimal(secondsText ?? '0');
  if (degrees === null || minutes === null || seconds === null) return syntax(text, 'a part is too large');
  if (minutes >= 60) return syntax(text, `${String(minutesText)} minutes is not below 60`);
  if (seconds >= 60) return syntax(text, `${String(secondsText)} seconds is not below 60`);
  const size = minutesText === undefined ? degrees : (degrees * 3600 + minutes * 60 + seconds) / 3600;
  const negative = sign === '-' || letter === 'S' || letter === 'W';
  return inRange(negative ? 0 - size : size, axis, text);
}

/** Typographic signs made plain, and outer spaces and inner tabs made spaces. */
function plainMarks(text: string): string {
  return text
    .replace(/[\u2212\u2013]/g, '-')
    .replace(/[\u00ba\u02da]/g, '°')
    .replace(/[\u2032\u2018\u2019]/g, "'")
    .replace(/[\u2033\u201c\u201d]|''/g, '"')
    .replace(/[\t\u00a0\u2009\u202f]/g, ' ')
    .trim();
}

function lettersOf(axis: AngleAxis): string {
  return axis === 'latitude' ? 'NS' : axis === 'longitude' ? 'EW' : '';
}

function nameOf(axis: AngleAxis): string {
  return axis === 'any' ? 'this angle' : `a ${axis}`;
}

function syntax(text: string, why: string): Outcome<number> {
  return failure(
    errorProblem('angle-syntax', {
      message: `"${text}" cannot be read as an angle: ${why}`,
      received: text,
      expected: 'decimal degrees or degrees, minutes, seconds',
      hint: `write -25.732028, 25°43'55.302"S or -25:43:55.302`,
    }),
  );
}

function inRange(degrees: number, axis: AngleAxis, text: string): Outcome<number> {
  if (axis === 'latitude' && !(degrees >= -90 && degrees <= 90)) {
    return failure(outside('latitude-out-of-range', '-90..90', text));
  }
  if (axis === 'longitude' && !(degrees >= -180 && degrees <= 360)) {
    return failure(outside('longitude-out-of-range', '-180..360', text));
  }
  return success(degrees);
}

function outside(code: 'latitude-out-of-range' | 'longitude-out-of-range', range: string, text: string): Problem {
  const shown = text.trim();
  const packed = PACKED.test(shown.replace(/^[+-]/, ''));
  const hint = packed
    ? 'it looks like degrees, minutes and seconds run together: set them apart, as in 37 56 51'
    : 'check the value, its unit, and whether latitude and longitude are exchanged';
  return errorProblem(code, { message: `${shown} is outside ${range}`, received: text, expected: range, hint });
}

/**
 * Degrees as text with degrees, minutes and seconds: `25°43'55.30200"S`.
 *
 * Rounding carries: 59.999999" becomes the next minute, never 60". Latitude and longitude end in
 * their letter; other angles begin with a minus where negative, also between −1° and 0°.
 *
 * Given: a finite angle, degrees; the axis; decimals of a second, 0…9. Returned: the text.
 * Errors: InternalError for an angle that is not finite. Inverse: `parseAngle`.
 *
 * @example
 * formatDms(-25.732028333333, 'latitude', 3); // '25°43\'55.302"S'
 */
export function formatDms(angleDeg: number, axis: AngleAxis, secondsDecimals: number): string {
  if (!Number.isFinite(angleDeg)) throw new InternalError('an angle that is not finite was to be printed');
  if (!(Number.isInteger(secondsDecimals) && secondsDecimals >= 0 && secondsDecimals <= 9)) {
    throw new InternalError('decimals of a second are out of range');
  }
  const parts = 10 ** secondsDecimals;
  // Whole counts of the last printed place: exact below 2^53, which 9 decimals of 2500° do not reach.
  const count = Math.round(Math.abs(angleDeg) * 3600 * parts);
  const perMinute = 60 * parts;
  const perDegree = 3600 * parts;
  const degrees = Math.floor(count / perDegree);
  const inDegree = count - degrees * perDegree;
  const minutes = Math.floor(inDegree / perMinute);
  const inMinute = inDegree - minutes * perMinute;
  const seconds = Math.floor(inMinute / parts);
  const fraction = inMinute - seconds * parts;
  const tail = secondsDecimals === 0 ? '' : `.${String(fraction).padStart(secondsDecimals, '0')}`;
  const size = `${String(degrees)}°${String(minutes).padStart(2, '0')}'${String(seconds).padStart(2, '0')}${tail}"`;
  const negative = angleDeg < 0 && count > 0;
  if (axis === 'latitude') return size + (negative ? 'S' : 'N');
  if (axis === 'longitude') return size + (negative ? 'W' : 'E');
  return negative ? `-${size}` : size;
}
