import type { GridReading } from '../../io/grids/grid-reading.js';
import type { Session } from '../../records/session.js';

/** A session, where the paths in it start from, and how far its grids may be read. */
export interface SessionInPlace {
  readonly session: Session;
  /** Folder that relative paths of the session start from. */
  readonly folder: string;
  readonly reading: GridReading;
  /** The day of a job that the session is of; absent: of no job, or of all its days. */
  readonly day?: string;
}
