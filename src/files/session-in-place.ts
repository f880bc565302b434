import type { GridReading } from '../io/grids/grid-reading.js';
import type { Session } from '../records/session.js';

/** A session, where the paths in it start from, and how far its grids may be read. */
export interface SessionInPlace {
  readonly session: Session;
  /** Folder that relative paths of the session start from. */
  readonly folder: string;
  readonly reading: GridReading;
  /** The day of a job that the session is of, and the ids of the bases that it describes itself; absent: of no job. */
  readonly day?: { readonly id: string; readonly ownBases: readonly string[] };
}
