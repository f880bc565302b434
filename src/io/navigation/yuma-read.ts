import { pushAll } from '../../core/numeric/push-all.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { NavigationContent } from '../../records/sky/navigation-file.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import { almanacElements, almanacSatellite } from './almanac-elements.js';
import type { AlmanacRow } from './almanac-elements.js';
import { navFault } from './nav-fault.js';
import { navNumber } from './nav-number.js';

/** How the lines of a record begin, small and without blanks, and what each of them says. */
const WORDS: readonly (readonly [string, Exclude<keyof AlmanacRow, 'line'>])[] = [
  ['id', 'number'],
  ['health', 'health'],
  ['eccentricity', 'eccentricity'],
  ['timeofapplicability', 'referenceOfWeekS'],
  ['orbitalinclination', 'inclinationRad'],
  ['rateofrightascen', 'nodeRateRadPerS'],
  ['sqrt(a)', 'rootSemiMajorAxis'],
  // Some writers say "at TOA": the node is that of the beginning of the week all the same, as it is sent.
  ['rightascenat', 'nodeRad'],
  ['argumentofperigee', 'perigeeRad'],
  ['meananom', 'meanAnomalyRad'],
  ['week', 'week'],
];

/** Whether lines are of a YUMA almanac: a record says ID, and Health in the next line that is not blank. */
export function isYuma(lines: readonly string[]): boolean {
  const filled = lines.filter((line) => line.trim() !== '').slice(0, 200);
  return filled.some((line, index) => {
    const next = filled[index + 1];
    return next !== undefined && wordOf(line) === 'number' && wordOf(next) === 'health';
  });
}

/** What a line of a record says; null: none of those. */
function wordOf(line: string): (typeof WORDS)[number][1] | null {
  const colon = line.indexOf(':');
  if (colon < 0) return null;
  const said = line.slice(0, colon).toLowerCase().replace(/\s+/gu, '');
  return (
    WORDS.find(([start]) => (start === 'id' || start === 'week' ? said === start : said.startsWith(start)))?.[1] ?? null
  );
}

/**
 * Reads a YUMA almanac. Text between records is passed over; a record begins with its ID and has every other line once, in any order.
 *
 * Given: lines; the day asked for, on the clock of GPS. Returned: see `NavigationContent`. Faults: a record without a line, with a line twice or whose number is none.
 * Reference: the YUMA form as the publishers of almanacs describe it, from memory, and real records; IS-GPS-200, 20.3.3.5.
 */
export function readYuma(lines: readonly string[], nearMs: number): Outcome<NavigationContent> {
  const elements: OrbitElements[] = [];
  const skipped = new Map<string, number>();
  const faults: Problem[] = [];
  const end = (record: OpenRecord | null): void => {
    if (record === null || record.isBad) return;
    const missing = WORDS.find(([, name]) => !record.values.has(name));
    const names = Object.fromEntries(record.values);
    if (missing !== undefined) {
      faults.push(navFault(record.line, `the record that begins here has no line "${missing[0]}"`));
      return;
    }
    const row = { ...names, line: record.line } as unknown as AlmanacRow;
    const who = almanacSatellite(row.number);
    if (who === null) {
      const kind = `satellite ${String(row.number)} of an almanac`;
      skipped.set(kind, 1);
      return;
    }
    const found = almanacElements(row, who, nearMs);
    if (found.ok) elements.push(found.value);
    else pushAll(faults, found.problems);
  };
  let open: OpenRecord | null = null;
  for (const [index, line] of lines.entries()) {
    const word = wordOf(line);
    if (word === null) continue;
    if (word === 'number') {
      end(open);
      open = { line: index + 1, values: new Map(), isBad: false };
    }
    if (open === null || open.isBad) continue;
    const fault = laid(open, word, line, index + 1);
    if (fault !== null) {
      faults.push(fault);
      open.isBad = true;
    }
  }
  end(open);
  return success({ form: 'YUMA almanac', elements, skipped, faults });
}

interface OpenRecord {
  readonly line: number;
  readonly values: Map<string, number>;
  isBad: boolean;
}

/** Lays what a line says into its record; what is wrong with it, or null. */
function laid({ values }: OpenRecord, word: string, line: string, at: number): Problem | null {
  const colon = line.indexOf(':');
  const said = line.slice(colon + 1).trim();
  const value = navNumber(said);
  if (value === null) return navFault(at, `"${said}" is no number`, line.slice(0, colon).trim());
  if (values.has(word)) return navFault(at, `the line "${line.slice(0, colon).trim()}" stands twice in one record`);
  values.set(word, value);
  return null;
}
