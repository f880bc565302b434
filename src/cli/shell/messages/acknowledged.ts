import type { AcknowledgedWarning } from '../../../io/documents/run-record.js';
import { present } from '../../../records/present.js';
import type { Problem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';

/** Held of each code, to be shown where it changes a verdict after all. */
const HELD = 3;

/** Warnings and notes that the session says are known. Errors are never among them. */
export interface Acknowledged {
  /** Adds codes with the reasons for them. */
  readonly add: (reasons: Readonly<Record<string, string>>) => void;
  /** Takes a problem where it is known; false: it is not. */
  readonly takes: (problem: Problem) => boolean;
  /** Those that came, with how often. */
  readonly found: () => readonly AcknowledgedWarning[];
  /** What is said of them at the end, a line each. */
  readonly lines: (reasons: ReadonlySet<string>) => readonly string[];
  /** The first of those that stand among the reasons of rows: they change a verdict, and are shown all the same. */
  readonly heldOf: (reasons: ReadonlySet<string>) => readonly Problem[];
}

/** Nothing is known yet. */
export function createAcknowledged(): Acknowledged {
  const reasons = new Map<string, string>();
  const counts = new Map<ProblemCode, number>();
  const held = new Map<ProblemCode, Problem[]>();
  return {
    add(own) {
      for (const [code, reason] of Object.entries(own)) reasons.set(code, reason);
    },
    takes(problem) {
      const { code, severity } = problem;
      if (severity === 'error' || !reasons.has(code)) return false;
      counts.set(code, (counts.get(code) ?? 0) + 1);
      const list = held.get(code) ?? [];
      if (list.length < HELD) held.set(code, [...list, problem]);
      return true;
    },
    found: () => [...counts].map(([code, count]) => ({ code, reason: present(reasons.get(code), 'reason'), count })),
    lines: (own) =>
      [...counts].map(
        ([code, count]) =>
          `pegbook: ${count} ${code} acknowledged: ${present(reasons.get(code), 'reason')}${own.has(code) ? '; shown, because it changes a verdict' : ''}`,
      ),
    heldOf: (own) => [...held].flatMap(([code, list]) => (own.has(code) ? list : [])),
  };
}
