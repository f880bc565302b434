import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Problem } from '../../../records/problem.js';
import { placeText } from './place-text.js';
import { createProblemGroups } from './problem-groups.js';

const MOST_SHOWN = 60;

/** Warnings that name the point or the observation they are of. */
const OF_NAMED: ReadonlySet<ProblemCode> = new Set([
  'network-copied',
  'network-excluded',
  'network-heights',
  'network-observation',
  'network-sigma-drowned',
  'network-unchecked',
  'point-repeat-disagrees',
  'site-check-exceeds',
  'site-outlier',
  'site-outside-control',
  'site-transfer-exceeds',
]);
/** Those that do so where they are of a row; without one they are of a base, or of all. */
const OF_NAMED_ROW: ReadonlySet<ProblemCode> = new Set([
  'coordinate-outside-area',
  'site-suspect',
  'site-unchecked',
  'value-unknown-id',
]);

/** The warnings that a page shows. */
export interface PageWarnings {
  readonly take: (problem: Problem) => void;
  readonly lines: () => readonly string[];
}

/**
 * Of each kind the first, then how many more of which there are; sixty of all kinds. On the page of one point (`onlyPoint`: POINT or
 * POINT@OCCUPATION) those that name it come first, each by itself, and those that name another are left out.
 */
export function createPageWarnings(onlyPoint: string | null): PageWarnings {
  const groups = createProblemGroups();
  const own: string[] = [];
  const first: string[] = [];
  const ids = onlyPoint === null ? [] : [...new Set([onlyPoint, onlyPoint.replace(/@[^@]*$/u, '')])];
  return {
    take(problem) {
      if (problem.severity !== 'warning') return;
      const text = [placeText(problem.where), problem.message].filter((part) => part !== '').join(': ');
      if (ids.some((id) => isNamed(id, problem.message))) {
        if (own.length < MOST_SHOWN) own.push(text);
      } else if (ids.length === 0 || !isOfAnother(problem)) {
        if (groups.isShown(problem) && first.length < MOST_SHOWN) first.push(text);
      }
    },
    lines: () => [...own, ...first, ...groups.plainLines()],
  };
}

/** A warning that names a point, but not the one asked for. */
function isOfAnother({ code, where }: Problem): boolean {
  return OF_NAMED.has(code) || (OF_NAMED_ROW.has(code) && where?.line !== undefined && where.line > 0);
}

const OF_A_NAME = /[\p{L}\p{N}_-]/u;

/** Whether a sentence names a point: `P1` is not in `P10` and not in `AP1`. */
function isNamed(id: string, message: string): boolean {
  if (id === '') return false;
  for (let at = message.indexOf(id); at >= 0; at = message.indexOf(id, at + 1)) {
    const before = message.charAt(at - 1);
    const after = message.charAt(at + id.length);
    if (!OF_A_NAME.test(before) && !OF_A_NAME.test(after)) return true;
  }
  return false;
}
