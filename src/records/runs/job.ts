import type { Session } from '../session.js';

/** Where a line of a job file stands, for messages of what it asks. */
export interface JobLine {
  /** Dotted place, such as `exclude[2]`. */
  readonly path: string;
  readonly line: number | null;
}

/** An occupation, or all of a point, that is left out of every result. Names are those of the output, after renames. */
export interface JobExclusion extends JobLine {
  readonly point: string;
  /** Null: on every day. */
  readonly day: string | null;
  /** Its number on its day; null: all of them. */
  readonly occupation: string | null;
  readonly reason: string;
}

/** A point that was keyed in under a wrong name. */
export interface JobRename extends JobLine {
  readonly from: string;
  readonly to: string;
  /** Null: on every day. */
  readonly day: string | null;
  readonly reason: string;
}

/** One day of a job: its fixes, and the session that holds for them. */
export interface JobDay {
  readonly id: string;
  /** The day itself, `2026-05-11`; null: not stated. */
  readonly date: string | null;
  /** Files of fixes, from the folder of the job file. */
  readonly fixes: readonly string[];
  /** Names for logs without them: a file; null: none. */
  readonly occupations: string | null;
  /** What is shared, with what the day says differently; a base that the day describes itself has its `day`. */
  readonly session: Session;
}

/** What belongs to every day of a job. */
export interface JobFiles {
  readonly control: string | null;
  readonly design: string | null;
  readonly limits: string | null;
}

/** Free text for pages and the front sheet; null: not given. */
export interface JobPeople {
  readonly client: string | null;
  readonly surveyor: string | null;
}

/** The work of several days that is reduced, checked and handed over together; docs/jobs.md. */
export interface Job {
  readonly title: string | null;
  readonly days: readonly JobDay[];
  readonly exclusions: readonly JobExclusion[];
  readonly renames: readonly JobRename[];
  readonly files: JobFiles;
  readonly people: JobPeople;
}
