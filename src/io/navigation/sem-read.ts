import { pushAll } from '../../core/numeric/push-all.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { entryAt } from '../../records/present.js';
import type { NavigationContent } from '../../records/sky/navigation-file.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import { almanacElements, almanacSatellite } from './almanac-elements.js';
import { navFault } from './nav-fault.js';
import { navNumber } from './nav-number.js';

/** Numbers of a record in their order: satellite, vehicle, accuracy; e, δi, node's rate; √A, node, perigee; M, two of the clock; health; configuration. */
const NUMBERS = 14;
/** SEM states the inclination as what it differs from this, semicircles. Reference: IS-GPS-200, 20.3.3.5.1.2, from memory. */
const INCLINATION = 0.3;

/** Whether lines are of a SEM almanac: a count with a name, then a week and its seconds, and numbers alone. */
export function isSem(lines: readonly string[]): boolean {
  const [first, second] = filledLines(lines);
  return (
    first !== undefined &&
    second !== undefined &&
    /^\d{1,3}\s+\S/u.test(first.text) &&
    /^\d{1,5}\s+\d+$/u.test(second.text)
  );
}

interface FilledLine {
  readonly text: string;
  /** From 1. */
  readonly line: number;
}

function filledLines(lines: readonly string[]): readonly FilledLine[] {
  return lines.map((line, index) => ({ text: line.trim(), line: index + 1 })).filter(({ text }) => text !== '');
}

/**
 * Reads a SEM almanac: numbers in their order, wherever its lines are broken; angles in semicircles.
 *
 * Given: lines that `isSem` knows; the day asked for, on the clock of GPS. Returned: see `NavigationContent`. Problems: nav-unreadable for a word that is
 * no number, and where it holds another number of records than it says.
 * Reference: the SEM form as the publishers of almanacs describe it, from memory; IS-GPS-200, 20.3.3.5.
 */
export function readSem(lines: readonly string[], nearMs: number): Outcome<NavigationContent> {
  const [head, time, ...body] = filledLines(lines);
  if (head === undefined || time === undefined) return failure(navFault(1, 'the file holds no week'));
  const [week, ofWeekS] = time.text.split(/\s+/u).map(navNumber);
  if (week == null || ofWeekS == null)
    return failure(navFault(time.line, 'the second line is no week with its seconds'));
  const words = body.flatMap(({ text, line }) => text.split(/\s+/u).map((word) => ({ word, line })));
  const bad = words.find(({ word }) => navNumber(word) === null);
  if (bad !== undefined) return failure(navFault(bad.line, `"${bad.word}" is no number`));
  const stated = navNumber(entryAt(head.text.split(/\s+/u), 0));
  if (stated === null || words.length !== stated * NUMBERS)
    return failure(
      navFault(
        head.line,
        `the file says ${String(stated)} records, and holds ${String(words.length)} numbers: it may be cut off`,
        `${String(NUMBERS)} numbers a record`,
      ),
    );
  const elements: OrbitElements[] = [];
  const skipped = new Map<string, number>();
  const faults: Problem[] = [];
  for (let at = 0; at < words.length; at += NUMBERS) {
    const numbers = words.slice(at, at + NUMBERS).map(({ word }) => navNumber(word) as number);
    const own = (place: number): number => entryAt(numbers, place);
    const who = almanacSatellite(own(0));
    // The inclination of QZSS differs from another value than that of GPS.
    if (who?.system !== 'GPS') {
      skipped.set(`satellite ${String(own(0))} of an almanac`, 1);
      continue;
    }
    const row = {
      ...{ line: entryAt(words, at).line, number: own(0), week, referenceOfWeekS: ofWeekS },
      eccentricity: own(3),
      inclinationRad: (INCLINATION + own(4)) * Math.PI,
      nodeRateRadPerS: own(5) * Math.PI,
      rootSemiMajorAxis: own(6),
      nodeRad: own(7) * Math.PI,
      perigeeRad: own(8) * Math.PI,
      meanAnomalyRad: own(9) * Math.PI,
      health: own(12),
    };
    const found = almanacElements(row, who, nearMs);
    if (found.ok) elements.push(found.value);
    else pushAll(faults, found.problems);
  }
  return success({ form: 'SEM almanac', elements, skipped, faults });
}
