import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Job } from '../../records/runs/job.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { BaseSettings, Session } from '../../records/session.js';
import { isReferred } from './known-from-day.js';

/** Settings that coordinates of all days must share to stand in one list. */
const SHARED = ['system', 'height'] as const;

/**
 * One session of all days of a job: that of the first, with the base set-ups of all, those that a day describes under its name.
 *
 * Problem: system-mismatch where a day has another system or geoid than the first.
 */
export function joinSessions({ title, days }: Job): Outcome<Session> {
  const first = entryAt(days, 0);
  for (const { id, session } of days) {
    const other = SHARED.find((name) => JSON.stringify(session[name]) !== JSON.stringify(first.session[name]));
    if (other !== undefined)
      return failure(
        errorProblem('system-mismatch', {
          message: `[${other}] of day ${id} is not that of day ${first.id}`,
          hint: 'say it in [shared]: one list has one system',
        }),
      );
  }
  const bases: BaseSettings[] = [];
  for (const { session } of days)
    for (const base of session.bases) {
      const isKnown = base.day === undefined && bases.some((other) => isSame(other, base));
      if (!isKnown) bases.push(asBroadcast(base));
    }
  return success({ ...first.session, title, bases });
}

/** A base known by reference has no coordinate until its day is reduced; what it broadcast says where it is. */
function asBroadcast(base: BaseSettings): BaseSettings {
  if (!isReferred(base)) return base;
  const { knownFrom: _, ...own } = base;
  return own;
}

/** Whether two days share a base, which is then said once. */
function isSame(a: BaseSettings, b: BaseSettings): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
