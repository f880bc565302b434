import { failure } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { NavigationContent } from '../../records/sky/navigation-file.js';
import { readRinexNavigation, rinexFirstLine } from './rinex-navigation-read.js';
import { isSem, readSem } from './sem-read.js';
import { isYuma, readYuma } from './yuma-read.js';

/**
 * Reads a navigation file or an almanac; which of them it is says its content, never its name.
 *
 * Given: its text; the day asked for, milliseconds on the clock of GPS, by which weeks that rolled over are told apart. Returned: see `NavigationContent`:
 * records that cannot be read are faults beside the others, each with its line.
 * Problems: nav-unknown-form, nav-not-navigation, nav-unreadable where nothing can be read at all.
 */
export function readNavigation(text: string, nearMs: number): Outcome<NavigationContent> {
  const lines = text.split(/\r\n|\n|\r/u);
  if (rinexFirstLine(lines) !== null) return readRinexNavigation(lines);
  if (isYuma(lines)) return readYuma(lines, nearMs);
  if (isSem(lines)) return readSem(lines, nearMs);
  return failure(
    errorProblem('nav-unknown-form', {
      message: 'the file is none of a RINEX navigation file, a YUMA almanac and a SEM almanac',
      expected: 'RINEX VERSION / TYPE in the first lines, records of ID and Health, or a count and a week',
      hint: 'a compressed file is to be unpacked first',
    }),
  );
}
