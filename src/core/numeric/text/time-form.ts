import { parseDecimal } from './decimal-text.js';
import { entryAt } from '../../../records/present.js';
import { instantMs } from './parse-utc.js';

/** Reads a time written in one form; null: the text is not in it, or names a time that does not exist. Milliseconds since 1970-01-01T00:00:00Z. */
export type TimeReader = (text: string) => number | null;

/** What a form of time leaves open. */
export interface TimeFormUse {
  /** Minutes east of UTC, of times that do not state their zone; null: each states it (`Z` in the form). */
  readonly zoneMinutes: number | null;
  /** GPS time minus UTC, seconds; 0 for times in UTC. */
  readonly leapSeconds: number;
}

/** A form that can be read, or why it cannot. */
export type TimeForm =
  | { readonly isForm: true; readonly statesZone: boolean; readonly reader: (use: TimeFormUse) => TimeReader }
  | { readonly isForm: false; readonly why: string };

const TOKEN = /Y{4}|YY|M{1,3}|D{1,3}|HH?|hh?|mm|ss|\s+|./gu;
const PARTS: Readonly<Record<string, string>> = {
  YYYY: String.raw`(?<year>\d{4})`,
  YY: String.raw`(?<short>\d{2})`,
  MMM: String.raw`(?<name>[A-Za-z]{3})`,
  MM: String.raw`(?<month>\d{2})`,
  M: String.raw`(?<month>\d{1,2})`,
  DDD: String.raw`(?<ordinal>\d{3})`,
  DD: String.raw`(?<day>\d{2})`,
  D: String.raw`(?<day>\d{1,2})`,
  HH: String.raw`(?<hour>\d{2})`,
  H: String.raw`(?<hour>\d{1,2})`,
  hh: String.raw`(?<half>\d{2})`,
  h: String.raw`(?<half>\d{1,2})`,
  mm: String.raw`(?<minute>\d{2})`,
  ss: String.raw`(?<second>\d{2})(?:[.,](?<fraction>\d{1,9}))?`,
  A: '(?<noon>[AaPp])\\.?[Mm]\\.?',
  Z: String.raw`(?<zone>Z|[+-]\d{2}:?\d{2})`,
};
const MONTHS: readonly string[] = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** 1980-01-06T00:00:00, where GPS weeks are counted from. IS-GPS-200, from memory. */
const GPS_EPOCH_MS = 315_964_800_000;
const WEEK_MS = 604_800_000;
/** Names of forms that are no calendar dates, what one text holds and what it counts from. */
const COUNTED: Readonly<Record<string, (text: string) => number | null>> = {
  'unix-seconds': (text) => scaled(text, 1000),
  'unix-milliseconds': (text) => scaled(text, 1),
  'gps-week-seconds': weekAndSeconds,
};

/**
 * A form of time, made ready to read texts.
 *
 * Given: `YYYY` year, `YY` year of 2000 to 2099, `MM` or `M` month, `MMM` its first three English letters, `DD` or `D` day, `DDD` day of the
 * year, `HH` or `H` hour, `hh` or `h` with `A` hour of twelve with am or pm, `mm` minute, `ss` second with or without a fraction,
 * `Z` zone; `M`, `D`, `H` and `h` take one digit or two. `T` and what is no letter stand for themselves, blanks for one or more. Or
 * `unix-seconds`, `unix-milliseconds` (since 1970-01-01T00:00:00Z), `gps-week-seconds` (week since 1980-01-06 without roll-over, seconds of
 * the week).
 * Returned: a maker of readers; or why it is no form.
 */
export function timeForm(form: string): TimeForm {
  const counted = Object.hasOwn(COUNTED, form) ? COUNTED[form] : undefined;
  if (counted !== undefined) {
    const reader =
      ({ leapSeconds }: TimeFormUse): TimeReader =>
      (text) => {
        const ms = counted(text.trim());
        return ms === null ? null : ms - leapSeconds * 1000;
      };
    return { isForm: true, statesZone: true, reader };
  }
  const tokens: readonly string[] = form.match(TOKEN) ?? [];
  const strange = tokens.find((token) => /\p{L}/u.test(token) && token !== 'T' && PARTS[token] === undefined);
  if (strange !== undefined) return { isForm: false, why: `"${strange}" is no part of a time` };
  const missing = missingPart(new Set(tokens), tokens);
  if (missing !== null) return { isForm: false, why: missing };
  const source = tokens
    .map(
      (token) =>
        PARTS[token] ??
        (token.trim() === '' ? String.raw`\s+` : token.replace(/[$()*+./?[\\\]^{|}]/u, String.raw`\$&`)),
    )
    .join('');
  const pattern = new RegExp(`^${source}$`, 'u');
  const reader =
    ({ zoneMinutes, leapSeconds }: TimeFormUse): TimeReader =>
    (text) => {
      const found = pattern.exec(text.trim())?.groups;
      const local = found === undefined ? null : localMs(found);
      if (found === undefined || local === null) return null;
      // A time whose zone nothing states is UTC.
      const zone = found['zone'] === undefined ? (zoneMinutes ?? 0) : zoneMinutesOf(found['zone']);
      return zone === null ? null : local - zone * 60_000 - leapSeconds * 1000;
    };
  return { isForm: true, statesZone: tokens.includes('Z'), reader };
}

/** Minutes east of UTC of `+02:00`, `+0200`, `Z` or `UTC`; null: it is none. */
export function zoneMinutesOf(text: string): number | null {
  if (/^(?:z|utc)$/iu.test(text)) return 0;
  const match = /^(?<sign>[+-])(?<hours>\d{2}):?(?<minutes>\d{2})$/u.exec(text)?.groups;
  if (match === undefined) return null;
  // Both groups are in every match.
  const [hours, minutes] = [numberOf(match['hours'] ?? ''), numberOf(match['minutes'] ?? '')];
  return hours > 14 || minutes > 59 ? null : (match['sign'] === '-' ? -1 : 1) * (hours * 60 + minutes);
}

function missingPart(has: ReadonlySet<string>, tokens: readonly string[]): string | null {
  const any = (...names: readonly string[]): boolean => names.some((name) => has.has(name));
  // A token that stands for itself holds nothing.
  const holds = tokens.map((token) => /\(\?<(?<what>[a-z]+)>/u.exec(PARTS[token] ?? '')?.groups?.['what'] ?? '');
  const twice = tokens.find((_, index) => holds[index] !== '' && holds.indexOf(entryAt(holds, index)) !== index);
  if (twice !== undefined) return `what ${twice} says stands twice`;
  if (!any('YYYY', 'YY')) return 'it has no year';
  if (!any('DDD') && !(any('MMM', 'MM', 'M') && any('DD', 'D'))) return 'it has no month and day';
  if (!any('HH', 'H') && !(any('hh', 'h') && any('A'))) return 'it has no hour (hh needs A beside it)';
  return any('mm') ? null : 'it has no minute';
}

function localMs(found: Readonly<Record<string, string | undefined>>): number | null {
  const number = (name: string): number => numberOf(found[name] ?? '0');
  const year = found['year'] === undefined ? 2000 + number('short') : number('year');
  // Half a day without a word for it is no hour, which is refused there.
  const hour = found['half'] === undefined ? number('hour') : hourOfTwelve(number('half'), found['noon'] ?? '');
  if (hour === null) return null;
  const ordinal = found['ordinal'] === undefined ? null : number('ordinal');
  const month =
    ordinal !== null
      ? 1
      : found['name'] === undefined
        ? number('month')
        : MONTHS.indexOf(found['name'].toLowerCase()) + 1;
  const whole = instantMs(year, month, ordinal === null ? number('day') : 1, hour, number('minute'), number('second'));
  if (whole === null) return null;
  const fraction = Math.round(numberOf(`0.${found['fraction'] ?? '0'}`) * 1000);
  if (ordinal === null) return whole + fraction;
  const days = instantMs(year, 12, 31, 0, 0, 0) === null ? 0 : daysOf(year);
  return ordinal < 1 || ordinal > days ? null : whole + (ordinal - 1) * 86_400_000 + fraction;
}

function daysOf(year: number): number {
  return instantMs(year, 2, 29, 0, 0, 0) === null ? 365 : 366;
}

function hourOfTwelve(hour: number, noon: string): number | null {
  if (hour < 1 || hour > 12) return null;
  return (hour % 12) + (noon.toLowerCase() === 'p' ? 12 : 0);
}

function scaled(text: string, factor: number): number | null {
  return /^\d{1,15}(?:\.\d{1,9})?$/u.test(text) ? Math.round(numberOf(text) * factor) : null;
}

function weekAndSeconds(text: string): number | null {
  const match = /^(?<week>\d{1,4})[\s:,;]+(?<seconds>\d{1,6}(?:\.\d{1,9})?)$/u.exec(text)?.groups;
  if (match === undefined) return null;
  // The group is in every match.
  const ms = Math.round(numberOf(match['seconds'] ?? '') * 1000);
  // The group is in every match.
  return ms >= WEEK_MS ? null : GPS_EPOCH_MS + numberOf(match['week'] ?? '') * WEEK_MS + ms;
}

/** Digits that a pattern has found; NaN is no time. */
function numberOf(digits: string): number {
  return parseDecimal(digits) ?? Number.NaN;
}
