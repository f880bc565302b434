import { LATEST_LEAP_SECONDS } from '../../../core/corrections/leap-seconds.js';
import { gpsTimeOf, nearestInstant } from '../../../core/corrections/stream-times.js';
import type { ObservationsMessage } from '../../../records/corrections/correction-message.js';

/** Times that differ so much more than usual are of two epochs, milliseconds: no stream has epochs nearer together than a tenth of a second. */
const OTHER_EPOCH_MS = 50;
/** Offsets are counted to this, milliseconds: clocks of receivers step by one. */
const STEP_MS = 10;
/** How often an offset was seen before it is the usual one. */
const LEAST_COUNT = 2;
/** Different offsets of two constellations that are counted. */
const MOST_OFFSETS = 100;

/** How far the times of two constellations in one epoch usually lie apart: nothing, or what a wrong clock makes of it. */
export interface UsualOffsets {
  /** Takes two messages, one behind the other: whether they lie otherwise apart than usual, and so are of two epochs. */
  readonly areOfTwoEpochs: (before: ObservationsMessage, message: ObservationsMessage) => boolean;
}

export function createUsualOffsets(): UsualOffsets {
  const byPair = new Map<string, Map<number, number>>();
  return {
    areOfTwoEpochs(before, message) {
      const one = gpsTimeOf(before, LATEST_LEAP_SECONDS);
      const other = gpsTimeOf(message, LATEST_LEAP_SECONDS);
      const cycle = { ms: other.ms, cycleMs: Math.min(one.cycleMs, other.cycleMs) };
      const offsetMs = nearestInstant(cycle, one.ms) - one.ms;
      const key = `${before.constellation} ${message.constellation}`;
      const counts = byPair.get(key) ?? new Map<number, number>();
      byPair.set(key, counts);
      const usual = [...counts].reduce<readonly [number, number] | null>(
        (most, own) => (own[1] >= LEAST_COUNT && (most === null || own[1] > most[1]) ? own : most),
        null,
      );
      const step = Math.round(offsetMs / STEP_MS);
      const seen = counts.get(step);
      if (seen !== undefined || counts.size < MOST_OFFSETS) counts.set(step, (seen ?? 0) + 1); // The first of its kind.
      return usual !== null && Math.abs(offsetMs - usual[0] * STEP_MS) > OTHER_EPOCH_MS;
    },
  };
}
