import { instantMs } from '../../core/numeric/text/parse-utc.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { Problem } from '../../records/problem.js';
import type { SkySystem } from '../../records/sky/orbit-elements.js';
import { navFault } from './nav-fault.js';
import { navNumber } from './nav-number.js';

/** A record as it stands in a file: whose it is, its epoch, and its numbers line by line. */
export interface NavRecord {
  readonly satellite: string;
  readonly system: SkySystem | null;
  /** Its epoch on the clock of its own system, milliseconds since 1970 as that clock shows it. */
  readonly epochMs: number;
  /** The numbers behind the first line, four a line; null: the field is blank or beyond the end of its line. */
  readonly fields: readonly (number | null)[];
  /** Line of the file that it begins in, from 1. */
  readonly line: number;
  /** What it is counted as where it is not planned with; null: it is. */
  readonly skippedAs: string | null;
}

/** Records and what is wrong with lines that are none. */
export interface NavRecords {
  readonly records: readonly NavRecord[];
  readonly faults: readonly Problem[];
}

const SYSTEMS: Readonly<Record<string, SkySystem>> = {
  G: 'GPS',
  R: 'GLONASS',
  E: 'Galileo',
  C: 'BeiDou',
  J: 'QZSS',
};
const OTHERS: Readonly<Record<string, string>> = { S: 'SBAS', I: 'NavIC' };
/** Messages of version 4 whose orbits have the model of the older ones. */
const MESSAGES: ReadonlySet<string> = new Set(['LNAV', 'FDMA', 'INAV', 'FNAV', 'D1', 'D2', 'D1D2']);

const FIELD = 19;
const FIELDS_A_LINE = 4;

/** Lines of one record: the first says whose it is. */
interface Lines {
  readonly first: string;
  readonly more: string[];
  readonly line: number;
  /** Type and message as the line before a record of version 4 says them; null: an older version. */
  readonly message: { readonly type: string; readonly name: string } | null;
}

/** Records of version 3 and 4. Given: the lines behind the header, and the number of the first. */
export function newRecords(body: readonly string[], firstLine: number): NavRecords {
  const groups: Lines[] = [];
  const faults: Problem[] = [];
  let message: Lines['message'] = null;
  for (const [index, line] of body.entries()) {
    if (line.trim() === '') continue;
    const at = firstLine + index;
    if (line.startsWith('>')) {
      const [type = '', , name = ''] = line.slice(1).trim().split(/\s+/u);
      message = { type, name };
      if (type !== 'EPH') groups.push({ first: '', more: [], line: at, message });
    } else if (message !== null && message.type !== 'EPH') continue;
    else if (/^[A-Z][ \d]\d/u.test(line)) groups.push({ first: line, more: [], line: at, message });
    else if (line.startsWith(' ') && groups.length > 0) groups.at(-1)?.more.push(line);
    else faults.push(navFault(at, 'the line belongs to no record', 'a satellite such as G07, or four blanks'));
  }
  return readGroups(groups, faults, (lines) => {
    const letter = lines.first.slice(0, 1);
    const satellite = lines.first.slice(0, 3).replace(' ', '0');
    return { letter, satellite, epochMs: epochOf(lines.first.slice(3, 23)), start: 4 };
  });
}

/** Records of version 2, all of one system. Given: the lines behind the header; the number of the first; the letter of the system. */
export function oldRecords(body: readonly string[], firstLine: number, letter: string): NavRecords {
  const groups: Lines[] = [];
  const faults: Problem[] = [];
  for (const [index, line] of body.entries()) {
    if (line.trim() === '') continue;
    const at = firstLine + index;
    if (/^[ \d]\d /u.test(line)) groups.push({ first: line, more: [], line: at, message: null });
    else if (line.startsWith('   ') && groups.length > 0) groups.at(-1)?.more.push(line);
    else faults.push(navFault(at, 'the line belongs to no record', 'the number of a satellite, or three blanks'));
  }
  return readGroups(groups, faults, (lines) => ({
    letter,
    satellite: letter + lines.first.slice(0, 2).replace(' ', '0'),
    epochMs: epochOf(lines.first.slice(2, 22)),
    start: 3,
  }));
}

interface Head {
  readonly letter: string;
  readonly satellite: string;
  readonly epochMs: number | null;
  /** Column of the first field of a line behind the first, from 0. */
  readonly start: number;
}

function readGroups(groups: readonly Lines[], faults: Problem[], headOf: (lines: Lines) => Head): NavRecords {
  const records: NavRecord[] = [];
  for (const lines of groups) {
    const { message, line, more } = lines;
    if (message !== null && message.type !== 'EPH') {
      records.push({ ...NOTHING, line, skippedAs: `${message.type} of version 4` });
      continue;
    }
    const { letter, satellite, epochMs, start } = headOf(lines);
    const system = SYSTEMS[letter] ?? null;
    const skippedAs =
      system === null
        ? (OTHERS[letter] ?? `system ${letter}`)
        : message !== null && !MESSAGES.has(message.name)
          ? `${system} ${message.name}`
          : null;
    if (skippedAs !== null) {
      records.push({ ...NOTHING, satellite, line, skippedAs });
      continue;
    }
    if (epochMs === null) {
      faults.push(
        navFault(line, `${satellite}: the epoch is no date and time`, 'year, month, day, hour, minute, second'),
      );
      continue;
    }
    const fields = more.flatMap((text) => fieldsOf(text, start));
    const bad = fields.findIndex((field) => field === 'bad');
    if (bad >= 0) {
      const behind = 1 + Math.floor(bad / FIELDS_A_LINE);
      const field = `field ${String(1 + (bad % FIELDS_A_LINE))} is no number`;
      faults.push(navFault(line + behind, `${satellite}: ${field}`, 'a number of nineteen columns at most'));
      continue;
    }
    const numbers = fields.map((field) => (field === 'bad' ? null : field));
    records.push({ satellite, system, epochMs, fields: numbers, line, skippedAs: null });
  }
  return { records, faults };
}

const NOTHING = { satellite: '', system: null, epochMs: 0, fields: [] } as const;

/** The four fields of a line. */
function fieldsOf(text: string, start: number): readonly (number | 'bad' | null)[] {
  return Array.from({ length: FIELDS_A_LINE }, (_, index) => {
    const cell = text.slice(start + index * FIELD, start + (index + 1) * FIELD);
    if (cell.trim() === '') return null;
    return navNumber(cell) ?? 'bad';
  });
}

/** Years of two digits up to this are of this century: RINEX 2 began in 1990. */
const LAST_OF_CENTURY = 79;

/** `2024 03 07 02 00 00`, or with a year of two digits and a second with a fraction; null: it is none. */
function epochOf(text: string): number | null {
  const words = text
    .trim()
    .split(/\s+/u)
    .map((word) => parseDecimal(word));
  const [year, month, day, hour, minute, second] = words;
  if (words.length !== 6 || words.includes(null)) return null;
  if (year == null || month == null || day == null || hour == null || minute == null || second == null) return null;
  const whole = year >= 100 ? year : year <= LAST_OF_CENTURY ? 2000 + year : 1900 + year;
  if (![whole, month, day, hour, minute].every((part) => Number.isInteger(part))) return null;
  const seconds = Math.floor(second);
  // A second of 60 is how some writers round.
  const minuteMs = instantMs(whole, month, day, hour, minute, 0);
  return minuteMs === null || !(seconds >= 0 && seconds <= 60) ? null : minuteMs + 1000 * second;
}
