import type { Listed } from './correction-audit.js';

/** Ages that availability is counted at, seconds. */
export const AVAILABILITY_AGES_S = [2, 5, 10] as const;

/** Epochs that had corrections of an age and less. */
export interface AvailabilityShare {
  readonly ageS: number;
  readonly count: number;
  /** 0 to 1, with Wilson's 95 % interval. */
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** Availability in an hour, or in a cell. */
export interface Availability {
  /** Epochs whose age is known, or that were not fixed for want of corrections. */
  readonly epochs: number;
  readonly shares: readonly AvailabilityShare[];
}

/** An hour, by its beginning in UTC. */
export interface AvailabilityHour extends Availability {
  readonly fromMs: number;
}

/** A square of the ground, by its corners. */
export interface AvailabilityCell extends Availability {
  readonly southDeg: number;
  readonly westDeg: number;
  readonly northDeg: number;
  readonly eastDeg: number;
}

/**
 * Which side an outage is put down to: the base was silent; it sent and the rover had nothing; neither, since fresh corrections came all
 * along and the solution was not fixed all the same; no stream says.
 */
export type OutageSide = 'base' | 'rover' | 'none' | 'unknown';

/** A stretch of epochs that were not fixed, or whose corrections were too old. */
export interface LinkOutage {
  /** File of the fixes. */
  readonly source: string;
  /** First epoch of it, and the first good one behind it, or its last where none follows; UTC. */
  readonly fromMs: number;
  readonly toMs: number;
  readonly isEnded: boolean;
  /** When the corrections were made that were in use when it began; null: no age is stated. */
  readonly silentFromMs: number | null;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly epochs: number;
  readonly largestAgeS: number | null;
  readonly points: Listed<string>;
  readonly side: OutageSide;
}

/** How age rose and fell. */
export interface AgeResets {
  readonly count: number;
  /** Age just before a reset; null: there was none. */
  readonly meanPeakS: number | null;
  /** Age just after: the latency of the link. */
  readonly meanTroughS: number | null;
  readonly leastTroughS: number | null;
  readonly meanIntervalS: number | null;
  readonly usualIntervalS: number | null;
}

/** What age cost one point. */
export interface PointCost {
  readonly pointId: string;
  readonly epochs: number;
  /** Fixed and young enough. */
  readonly kept: number;
  /** Too old. */
  readonly lost: number;
  /** Of the epochs kept; null: none states an age. */
  readonly meanAgeS: number | null;
  /** One sigma of an axis in plan and in height by the planning model, without and with age, metres; null: nothing is kept. */
  readonly sigmaHorizontalM: number | null;
  readonly sigmaHorizontalAgedM: number | null;
  readonly sigmaVerticalM: number | null;
  readonly sigmaVerticalAgedM: number | null;
  readonly passes: boolean;
  /** With every age at most two seconds. */
  readonly wouldPass: boolean;
}

/** What age cost the day. */
export interface LinkCost {
  /** Growth of the error, metres a second, one sigma an axis: an assumption where the session states none. */
  readonly ageRateMPerS: number;
  readonly lostEpochs: number;
  /** Points that nothing is left of. */
  readonly lostPoints: readonly string[];
  /** Points that fail, and would pass with ages of at most two seconds. */
  readonly rescuedPoints: readonly string[];
  readonly points: Listed<PointCost>;
}

/** A minute of the day, for the timeline. */
export interface LinkMinute {
  readonly fromMs: number;
  readonly epochs: number;
  readonly bad: number;
  readonly leastAgeS: number | null;
  readonly largestAgeS: number | null;
}

/** The link of one day of a job, or of a run. */
export interface DayLink {
  /** Null: of no job. */
  readonly day: string | null;
  readonly link: LinkReport;
}

/** The link of a day, as the ages of the corrections show it. */
export interface LinkReport {
  readonly epochs: number;
  readonly withAge: number;
  readonly notFixed: number;
  readonly meanAgeS: number | null;
  readonly leastAgeS: number | null;
  readonly largestAgeS: number | null;
  /** Older is refused: the limit of the session, else ten seconds. */
  readonly limitS: number;
  /** The session sets none, and nothing was refused for its age. */
  readonly isLimitAssumed: boolean;
  readonly aboveLimit: number;
  readonly resets: AgeResets;
  readonly outages: Listed<LinkOutage>;
  readonly hours: readonly AvailabilityHour[];
  readonly cells: Listed<AvailabilityCell>;
  readonly cost: LinkCost;
  readonly minutes: Listed<LinkMinute>;
}
