import type { LocalVector } from '../points/point.js';
import type { Answer } from '../runs/run-answer.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { SentPosition } from './correction-audit.js';

/** How a base of a session and a station of a stream were put together. */
export type BroadcastMatch = 'id' | 'only-one' | 'nearest';

/** What a session says of a base, held against one coordinate that was sent. */
export interface BroadcastCheck {
  readonly baseId: string;
  /** Null: nothing that was sent is of this base in its time. */
  readonly sent: {
    readonly stationId: number;
    readonly matchedBy: BroadcastMatch;
    readonly position: SentPosition;
    /** Sent minus session, at the antenna reference point. */
    readonly arp: LocalVector;
    /** Sent minus session, at the mark; null where one of the two states no antenna height. */
    readonly mark: LocalVector | null;
    /** Of the session; null: not stated. */
    readonly antennaHeightM: number | null;
  } | null;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
  /** What explains the difference, in a sentence; null: nothing that is known. */
  readonly cause: string | null;
  /** The line to put into the session; null: none is needed. */
  readonly line: string | null;
}
