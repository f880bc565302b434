import { pushAll } from '../../core/numeric/push-all.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { NavigationContent } from '../../records/sky/navigation-file.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import { navNumber } from './nav-number.js';
import { navFault } from './nav-fault.js';
import { elementsOfRecord } from './rinex-elements.js';
import { oldRecords, newRecords } from './rinex-records.js';
import type { NavRecord } from './rinex-records.js';

/** Where the label of a line of the header begins. */
const LABEL = 60;
/** A first line that is not the first: blank lines before it are met. */
const FIRST_LINES = 5;

/** The index of the line that says which RINEX a file is; null: it is none. */
export function rinexFirstLine(lines: readonly string[]): number | null {
  const index = lines.slice(0, FIRST_LINES).findIndex((line) => line.slice(LABEL).trim() === 'RINEX VERSION / TYPE');
  return index < 0 ? null : index;
}

/**
 * Reads a RINEX navigation file of version 2, 3 or 4.
 *
 * Given: its lines, the first of them as `rinexFirstLine` finds it. Returned: elements of GPS, GLONASS, Galileo, BeiDou and QZSS in the order of the file. Records
 * of other systems, of messages with another model of the orbit (CNAV and its like), and those of version 4 that hold no orbit are counted by what they are.
 * Problems: nav-not-navigation for observations and other kinds; nav-unreadable without an end of the header; nav-version for a version that is not read.
 * Reference: RINEX 2.11, 3.05 and 4.02, from memory, and real files.
 */
export function readRinexNavigation(lines: readonly string[]): Outcome<NavigationContent> {
  const first = rinexFirstLine(lines) ?? 0; // Asked for only where there is one.
  const line = lines[first] ?? '';
  const version = navNumber(line.slice(0, 20));
  const kind = line.slice(20, 40).trim();
  const letter = kind.slice(0, 1).toUpperCase();
  const major = version === null ? null : Math.floor(version);
  if (version === null || (major !== 2 && major !== 3 && major !== 4))
    return failure(
      errorProblem('nav-version', {
        message: `RINEX ${line.slice(0, 20).trim()} is not read`,
        where: { line: first + 1 },
        expected: 'version 2, 3 or 4',
      }),
    );
  const isOld = major === 2;
  if (!(letter === 'N' || (isOld && (letter === 'G' || letter === 'H'))))
    return failure(
      errorProblem('nav-not-navigation', {
        message: `the file holds ${kind === '' ? 'no navigation data' : kind.toLowerCase()}, not orbits of satellites`,
        where: { line: first + 1 },
        hint: 'give the navigation file that was recorded beside it',
      }),
    );
  const end = lines.findIndex((text) => text.slice(LABEL).trim() === 'END OF HEADER');
  if (end < 0)
    return failure(navFault(lines.length, 'the header has no end: the file may be cut off', 'END OF HEADER'));
  const body = lines.slice(end + 1);
  const records = isOld
    ? oldRecords(body, end + 2, letter === 'G' ? 'R' : letter === 'H' ? 'S' : 'G')
    : newRecords(body, end + 2);
  return success(contentOf(`RINEX ${line.slice(0, 20).trim()}`, records));
}

function contentOf(form: string, { records, faults }: ReturnType<typeof newRecords>): NavigationContent {
  const elements: OrbitElements[] = [];
  const skipped = new Map<string, number>();
  const wrong: Problem[] = [...faults];
  for (const record of records) {
    const found = elementsOrCount(record, skipped);
    if (found === null) continue;
    if (found.ok) elements.push(found.value);
    else pushAll(wrong, found.problems);
  }
  return { form, elements, skipped, faults: wrong };
}

function elementsOrCount(record: NavRecord, skipped: Map<string, number>): Outcome<OrbitElements> | null {
  if (record.skippedAs !== null) {
    // Not counted yet is 0.
    skipped.set(record.skippedAs, (skipped.get(record.skippedAs) ?? 0) + 1);
    return null;
  }
  return elementsOfRecord(record);
}
