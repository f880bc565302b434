import { DEFAULT_GRID_READING } from '../../io/grids/grid-reading.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import type { JobDay } from '../../records/runs/job.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';
import type { JobInPlace } from './load-job.js';

/**
 * The session of one day of a job, for `prepareReduction`. Given: the job; one of its days. A base that is known by a point of an
 * earlier day has no coordinate yet: `knownFromDay` gives it one once that day is reduced.
 *
 * @example
 * const job = await loadJob('../quillback-pan-job/job.toml');
 * const session = sessionOfDay(job.value, job.value.job.days[0]);
 * session.day; // '2026-03-09'
 */
export function sessionOfDay(
  { job, folder }: Pick<JobInPlace, 'job' | 'folder'>,
  { id, session }: JobDay,
  reading: GridReading = DEFAULT_GRID_READING,
): SessionInPlace {
  return { session: { ...session, title: job.title }, folder, reading, day: id };
}
