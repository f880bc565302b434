import type { Job } from '../../records/runs/job.js';
import { isReferred } from './known-from-day.js';

/** The days that bases of a job are known by: all of them, since a day that one of these rests on is asked for itself. */
export function neededDays({ days }: Job): ReadonlySet<string> {
  const needed = new Set<string>();
  for (const { session } of days)
    for (const base of session.bases) if (isReferred(base)) needed.add(base.knownFrom.day);
  return needed;
}
