import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { parseUtc } from '../../../core/numeric/text/parse-utc.js';
import { timeForm } from '../../../core/numeric/text/time-form.js';
import { cellAt, exampleOf } from '../columns/column-profile.js';
import type { ColumnProfile } from '../columns/column-profile.js';
import { ASKED } from '../draft-line.js';
import type { DraftValue } from '../draft-line.js';

/** What is guessed of a column of times, or of two; and how its cells are read by it, for what else is guessed from times. */
export interface TimeGuess {
  readonly value: DraftValue;
  readonly why: readonly string[];
  /** Milliseconds as read without a zone or leap seconds; null where the form is asked. */
  readonly read: ((text: string) => number | null) | null;
}

/** GPS time minus UTC since 2017-01-01, seconds; IERS Bulletin C, from memory. */
const LEAP_SECONDS = 18;
const LEAP_SINCE_MS = 1_483_228_800_000;
const SEPARATORS = '[./-]';

/** Guesses the form of times. `parts` are the columns whose cells are read together, one or two. */
export function guessTime(parts: readonly ColumnProfile[]): TimeGuess {
  const headers = parts.map(({ header }) => header);
  const phrase = parts.map(({ form }) => `${form.phrase} ${form.unit}`).join(' ');
  const texts = joined(parts);
  const sample = `such as ${exampleOf(texts)}`;
  if (parts.length === 1 && texts.every((text) => typeof parseUtc(text) === 'number'))
    return plainTimes(exampleOf(headers), phrase, sample);
  const counted = countedForm(texts, phrase);
  if (counted !== null) return withForm(headers, counted, phrase, sample, texts);
  const fitting = calendarForms(texts);
  const [form] = fitting;
  if (form === undefined)
    return {
      value: { header: oneOrTwo(headers), form: ASKED, ...zonePart(phrase, ASKED, texts, null) },
      why: [`times ${sample}, in a form that is not known`],
      read: null,
    };
  if (fitting.length > 1)
    return {
      value: { header: oneOrTwo(headers), form: ASKED, ...zonePart(phrase, form, texts, null) },
      why: [`times ${sample}: no row says which is the day and which the month`, `write ${fitting.join(' or ')}`],
      read: null,
    };
  return withForm(headers, form, phrase, sample, texts);
}

function plainTimes(header: string, phrase: string, sample: string): TimeGuess {
  const read = (text: string): number | null => {
    const ms = parseUtc(text);
    return typeof ms === 'number' ? ms : null;
  };
  if (!/\bgpst?\b/u.test(phrase)) return { value: header, why: [`times ${sample}, which state their zone`], read };
  return {
    value: { header, scale: ASKED },
    why: [
      `the header says GPS and the times ${sample} say UTC: write "utc", or "gps" with leap_seconds = ${String(LEAP_SECONDS)}`,
    ],
    read,
  };
}

/** The texts that cells of one or two columns make, row by row as far as both are filled. */
function joined(parts: readonly ColumnProfile[]): readonly string[] {
  const [first, second] = parts;
  if (first === undefined) return [];
  return second === undefined ? first.cells : first.cells.map((cell, index) => `${cell} ${cellAt(second, index)}`);
}

function countedForm(texts: readonly string[], phrase: string): string | null {
  if (/\b(?:week|woche|semaine|semana|settimana|tydzien)\b/u.test(phrase) && readsAll('gps-week-seconds', texts))
    return 'gps-week-seconds';
  if (texts.every((text) => /^1\d{9}(?:\.\d+)?$/u.test(text))) return 'unix-seconds';
  return texts.every((text) => /^1\d{12}$/u.test(text)) ? 'unix-milliseconds' : null;
}

/** Every order of day and month that all texts can be read in, each with the first form of the time of day that fits. */
function calendarForms(texts: readonly string[]): readonly string[] {
  const [date = '', gap = '', clock = ''] = splitMoment(exampleOf(texts));
  const clocks = clockForms(clock);
  return dateForms(date, texts).flatMap((day) => {
    const form = clocks.map((time) => `${day}${gap}${time}`).find((candidate) => readsAll(candidate, texts));
    return form === undefined ? [] : [form];
  });
}

/** Date, what stands between, and time of day. */
function splitMoment(text: string): readonly string[] {
  const match = /^(?<date>\S+?)(?<gap>T|\s+)(?<clock>\d{1,2}:.*|\d{6}(?:\.\d+)?|\d{4})$/u.exec(text)?.groups;
  // The groups are in every match.
  return match === undefined ? [] : [match['date'] ?? '', match['gap'] === 'T' ? 'T' : ' ', match['clock'] ?? ''];
}

function dateForms(date: string, texts: readonly string[]): readonly string[] {
  if (/^\d{8}$/u.test(date)) return ['YYYYMMDD'];
  const year = new RegExp(`^\\d{4}(?<mark>${SEPARATORS})\\d{1,2}${SEPARATORS}\\d{1,2}$`, 'u').exec(date)?.groups;
  const isShort = (pattern: RegExp): boolean => texts.some((text) => pattern.test(text));
  if (year !== undefined) {
    const mark = year['mark'] ?? '-';
    return isShort(/^\d{4}\D\d\D|^\d{4}\D\d{1,2}\D\d\D/u) ? [`YYYY${mark}M${mark}D`] : [`YYYY${mark}MM${mark}DD`];
  }
  const named = /^\d{1,2}(?<mark>[ ./-])[A-Za-z]{3}[ ./-]\d{4}$/u.exec(date)?.groups;
  if (named !== undefined) return [`D${named['mark'] ?? '-'}MMM${named['mark'] ?? '-'}YYYY`];
  const last = new RegExp(`^\\d{1,2}(?<mark>${SEPARATORS})\\d{1,2}${SEPARATORS}(?<year>\\d{4}|\\d{2})$`, 'u').exec(
    date,
  )?.groups;
  if (last === undefined) return [];
  const mark = last['mark'] ?? '.';
  // The group is in every match.
  const years = (last['year'] ?? '').length === 4 ? 'YYYY' : 'YY';
  const [day, month] = isShort(/^\d\D|^\d{1,2}\D\d\D/u) ? ['D', 'M'] : ['DD', 'MM'];
  return [`${day}${mark}${month}${mark}${years}`, `${month}${mark}${day}${mark}${years}`];
}

function clockForms(clock: string): readonly string[] {
  if (/[AaPp]\.?[Mm]\.?$/u.test(clock)) {
    const gap = /\s[AaPp]/u.test(clock) ? ' ' : '';
    return ['hh', 'h'].flatMap((hour) => [`${hour}:mm:ss${gap}A`, `${hour}:mm${gap}A`]);
  }
  if (/^\d{6}/u.test(clock)) return ['HHmmss'];
  if (/^\d{4}$/u.test(clock)) return ['HHmm'];
  const zone = /(?:Z|[+-]\d{2}:?\d{2})$/u.test(clock) ? 'Z' : '';
  return [`HH:mm:ss${zone}`, `H:mm:ss${zone}`, `HH:mm${zone}`, `H:mm${zone}`];
}

function readsAll(form: string, texts: readonly string[]): boolean {
  const made = timeForm(form);
  if (!made.isForm) return false;
  const read = made.reader({ zoneMinutes: 0, leapSeconds: 0 });
  return texts.length > 0 && texts.every((text) => read(text) !== null);
}

function withForm(
  headers: readonly string[],
  form: string,
  phrase: string,
  sample: string,
  texts: readonly string[],
): TimeGuess {
  const made = timeForm(form);
  const read = made.isForm ? made.reader({ zoneMinutes: 0, leapSeconds: 0 }) : null;
  const zone = zonePart(phrase, form, texts, read);
  const isAsked = Object.values(zone).includes(ASKED);
  return {
    value: { header: oneOrTwo(headers), form, ...zone },
    why: [
      `times ${sample}`,
      ...(isAsked && 'zone' in zone ? ['their zone is not said: write "Z" for UTC, or such as "+02:00"'] : []),
      ...(isAsked && 'leap_seconds' in zone ? ['write GPS time minus UTC at that time'] : []),
      ...('scale' in zone && !isAsked
        ? [`the header says GPS; GPS time is ${String(LEAP_SECONDS)} s ahead of UTC since 2017`]
        : []),
    ],
    read,
  };
}

/** What is said of the zone: by the form, by the header, or by nobody. */
function zonePart(
  phrase: string,
  form: string,
  texts: readonly string[],
  read: ((text: string) => number | null) | null,
): Readonly<Record<string, DraftValue>> {
  if (form.startsWith('unix')) return {};
  const isGps = form === 'gps-week-seconds' || /\b(?:gps|gpst)\b/u.test(phrase);
  if (isGps) {
    const first = read?.(exampleOf(texts)) ?? null;
    return { scale: 'gps', leap_seconds: first !== null && first >= LEAP_SINCE_MS ? LEAP_SECONDS : ASKED };
  }
  if (form.endsWith('Z')) return {};
  return { zone: /\b(?:utc|gmt|zulu|tu)\b/u.test(phrase) ? 'Z' : ASKED };
}

function oneOrTwo(headers: readonly string[]): DraftValue {
  return headers.length === 1 ? exampleOf(headers) : headers;
}

/** Whether a column holds times of day without a date. */
export function isClock({ cells, numbers }: ColumnProfile): boolean {
  return (
    cells.length > 0 &&
    cells.every(
      (cell) =>
        /^\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?[AaPp]\.?[Mm]\.?)?$/u.test(cell) ||
        (numbers !== null && isPackedClock(cell)),
    )
  );
}

function isPackedClock(cell: string): boolean {
  const value = parseDecimal(cell);
  return /^\d{6}(?:\.\d+)?$/u.test(cell) && value !== null && value < 240_000;
}

/** Whether a column holds dates without a time of day. */
export function isDate({ cells }: ColumnProfile): boolean {
  return (
    cells.length > 0 &&
    cells.every((cell) => /^(?:\d{8}|\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|\d{1,2}[ ./-][A-Za-z]{3}[ ./-]\d{4})$/u.test(cell))
  );
}
