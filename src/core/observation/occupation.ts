import type { Fix } from '../../records/points/fix.js';

/**
 * What must be remembered of an occupation while its rows stream past. Changed in place by
 * `extendOccupation`, so that a million epochs allocate nothing.
 */
export interface OccupationState {
  readonly pointId: string;
  readonly baseId: string | null;
  readonly poleLengthM: number | null;
  /** Number of the station last named; null: none yet. */
  stationId: string | null;
  /** The row stands alone: it is a mean already, or has no time. */
  readonly alone: boolean;
  lastSourceIndex: number;
  /** Time of the last row, milliseconds; null where `alone` for want of a time. */
  lastMs: number | null;
  /** A fixed epoch has been seen. */
  hasFixed: boolean;
  /** An epoch that was not fixed has followed it. */
  fixLost: boolean;
}

function standsAlone(fix: Fix): boolean {
  return fix.epochMs === null || fix.epochCount > 1;
}

/**
 * Begins an occupation with a row.
 *
 * Given: the row; the base and the pole length that hold for it where the row itself does not say
 * (by default what the row says).
 */
export function startOccupation(
  fix: Fix,
  baseId: string | null = fix.baseId,
  poleLengthM: number | null = fix.poleLengthM,
): OccupationState {
  return {
    pointId: fix.pointId,
    baseId,
    poleLengthM,
    stationId: fix.stationId ?? null,
    alone: standsAlone(fix),
    lastSourceIndex: fix.place.sourceIndex,
    lastMs: fix.epochMs,
    hasFixed: fix.solution === 'fixed',
    fixLost: false,
  };
}

/**
 * Whether a row belongs to the occupation of the rows before it.
 *
 * An occupation is an unbroken run of epochs at one point. The next one begins with a gap longer than
 * `gapS` seconds, another point, base, station or pole length, or a new initialisation: a fixed epoch after a
 * fix was lost. Epochs before the first fixed one belong to the occupation they precede. A row that
 * is a mean already, or has no time, is an occupation of its own. A log without point names is one
 * occupation of each station, whatever its gaps; an epoch that names no station changes none.
 *
 * Given: the state; the row; the gap, seconds; base and pole length as for `startOccupation`.
 * An epoch earlier than the last continues nothing: ask `isOutOfOrder` first.
 */
export function continuesOccupation(
  state: OccupationState,
  fix: Fix,
  gapS: number,
  baseId: string | null = fix.baseId,
  poleLengthM: number | null = fix.poleLengthM,
): boolean {
  if (state.alone || state.pointId !== fix.pointId || standsAlone(fix)) return false;
  if (state.baseId !== baseId || state.poleLengthM !== poleLengthM) return false;
  if (fix.stationId !== undefined && state.stationId !== null && fix.stationId !== state.stationId) return false;
  // A row without a time stands alone, and has been dealt with.
  const stepMs = (fix.epochMs as number) - (state.lastMs as number);
  if (stepMs < 0) return false;
  if (fix.namedAfterLog === true) return state.lastSourceIndex === fix.place.sourceIndex;
  if (stepMs > gapS * 1000) return false;
  return !(fix.solution === 'fixed' && state.fixLost);
}

/** Adds a row that `continuesOccupation` to the state, in place. */
export function extendOccupation(state: OccupationState, fix: Fix): void {
  state.lastMs = fix.epochMs;
  state.lastSourceIndex = fix.place.sourceIndex;
  if (fix.stationId !== undefined) state.stationId = fix.stationId;
  if (fix.solution === 'fixed') state.hasFixed = true;
  else if (state.hasFixed) state.fixLost = true;
}

/**
 * Whether a row is earlier than the row before it at the same point in the same file, which is the
 * problem time-out-of-order. Rows that are means are not ordered, and another file may begin earlier.
 */
export function isOutOfOrder(state: OccupationState, fix: Fix): boolean {
  return (
    state.lastMs !== null &&
    fix.epochMs !== null &&
    !state.alone &&
    !standsAlone(fix) &&
    state.pointId === fix.pointId &&
    state.lastSourceIndex === fix.place.sourceIndex &&
    fix.epochMs < state.lastMs
  );
}
