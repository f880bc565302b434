import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { instantMs } from '../../core/numeric/text/parse-utc.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { nmeaChecksum } from './nmea-checksum.js';
import { entryAt } from '../../records/present.js';

/** A sentence whose checksum holds: its kind without the talker, such as `GGA`, and its fields from 1. */
export interface NmeaSentence {
  readonly kind: string;
  /** Who says it, such as `GN`; empty for a maker's own sentence. */
  readonly talker: string;
  /** Everything after the address. */
  readonly body: string;
  /** Field 0 is the address; a field that is not there is empty. */
  readonly field: (index: number) => string;
}

/** Why a line, or a field of a sentence, cannot be used. */
export interface NmeaFault {
  readonly code: ProblemCode;
  readonly message: string;
  readonly hint?: string;
}

/** True for a fault in place of what was asked for. */
export function isFault(value: object): value is NmeaFault {
  return 'code' in value;
}

/**
 * Reads one sentence of an NMEA 0183 log.
 * Problems: nmea-syntax for a text that is no sentence, nmea-checksum. Any talker is taken.
 * Source: NMEA 0183 sentence layout, from memory; the checksum is the exclusive or of the characters between `$` and `*`.
 */
export function nmeaSentence(text: string): NmeaSentence | NmeaFault {
  const match = /^[!$]([^!*$][^*$]*)\*([0-9A-Fa-f]{2})\s*$/.exec(text);
  if (match === null) {
    const message = /^[!$]/.test(text) ? 'the sentence has no checksum' : 'the line does not start with $';
    return { code: 'nmea-syntax', message, hint: 'mend or remove the line' };
  }
  const [, all = '', stated = ''] = match;
  const computed = nmeaChecksum(all);
  if (computed !== stated.toUpperCase()) {
    return {
      code: 'nmea-checksum',
      message: `the checksum says ${stated.toUpperCase()} and the text gives ${computed}`,
      hint: 'the line is damaged: remove it',
    };
  }
  const fields = all.split(',');
  const address = entryAt(fields, 0);
  // Sentences of a maker start with P and have no talker; none of them is read.
  const isStandard = address.length === 5 && !address.startsWith('P');
  return {
    kind: isStandard ? address.slice(2) : address,
    talker: isStandard ? address.slice(0, 2) : '',
    body: all.slice(address.length + 1),
    // A sentence that is cut short has no more fields.
    field: (index) => fields[index]?.trim() ?? '',
  };
}

/** The number of a text that a pattern has already found to be digits. */
export function digits(text: string | undefined): number {
  // A group that matched nothing, such as a fraction, adds nothing.
  return parseDecimal(text ?? '') ?? 0;
}

/** Milliseconds of the day from `hhmmss.sss`; null when it is none. */
export function nmeaTimeOfDay(text: string): number | null {
  const match = /^(\d{2})(\d{2})(\d{2})(\.\d{1,9})?$/.exec(text);
  if (match === null) return null;
  const [, hour, minute, second, fraction = '.0'] = match;
  const whole = instantMs(1970, 1, 1, digits(hour), digits(minute), digits(second));
  return whole === null ? null : whole + Math.round(digits(fraction) * 1000);
}

/** Midnight, in milliseconds since 1970-01-01T00:00:00Z, of RMC's `ddmmyy`: years 80 to 99 are of the last century. */
export function nmeaRmcDate(text: string): number | null {
  const match = /^(\d{2})(\d{2})(\d{2})$/.exec(text);
  if (match === null) return null;
  const yy = digits(match[3]);
  return instantMs(yy >= 80 ? 1900 + yy : 2000 + yy, digits(match[2]), digits(match[1]), 0, 0, 0);
}

/** Midnight, in milliseconds since 1970-01-01T00:00:00Z, of a ZDA sentence; null where it gives no date. */
export function nmeaZdaDate(sentence: NmeaSentence): number | null {
  const [day, month, year] = [sentence.field(2), sentence.field(3), sentence.field(4)];
  if (!/^\d{2}$/.test(day) || !/^\d{2}$/.test(month) || !/^\d{4}$/.test(year)) return null;
  return instantMs(digits(year), digits(month), digits(day), 0, 0, 0);
}

/** An angle of a sentence, and how many decimals of a minute it carries. */
export interface NmeaAngle {
  readonly degrees: number;
  readonly minuteDecimals: number;
}

/** Degrees, north and east positive, from `ddmm.mmmm` or `dddmm.mmmm` and its letter. */
export function nmeaAngle(text: string, letter: string, axis: 'latitude' | 'longitude'): NmeaAngle | NmeaFault {
  const degreeDigits = axis === 'latitude' ? 2 : 3;
  const match = (axis === 'latitude' ? /^(\d{2})(\d{2})(?:\.(\d*))?$/ : /^(\d{3})(\d{2})(?:\.(\d*))?$/).exec(text);
  const [positive, negative] = axis === 'latitude' ? ['N', 'S'] : ['E', 'W'];
  if (match === null || (letter !== positive && letter !== negative)) {
    return {
      code: 'nmea-syntax',
      message: `${axis} "${text}${letter === '' ? '' : ` ${letter}`}" is not of the form ${'d'.repeat(degreeDigits)}mm.mmm and ${positive} or ${negative}`,
    };
  }
  const minutes = parseDecimal(text.slice(degreeDigits)) ?? NaN;
  const degrees = digits(match[1]) + minutes / 60;
  if (!(minutes < 60) || degrees > (axis === 'latitude' ? 90 : 180)) {
    return { code: `${axis}-out-of-range`, message: `${axis} ${text} ${letter} is out of range` };
  }
  return { degrees: letter === negative ? -degrees : degrees, minuteDecimals: match[3]?.length ?? 0 };
}
