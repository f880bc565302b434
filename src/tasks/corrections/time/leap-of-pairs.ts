import { isLeapSeconds } from '../../../core/corrections/leap-seconds.js';
import { gpsTimeOf, leapOfPair } from '../../../core/corrections/stream-times.js';
import type { ObservationsMessage } from '../../../records/corrections/correction-message.js';

/** How far from whole seconds a pair of one epoch may be, milliseconds: clocks of receivers round. */
const AGREE_MS = 10;

/** The seconds between GPS time and UTC by which the GLONASS of a stream lies beside its other clocks. */
export interface LeapOfPairs {
  readonly add: (message: ObservationsMessage) => void;
  /** What most pairs so far say; null: there was none. */
  readonly leapSeconds: () => number | null;
}

/** Pairs are of GLONASS and another constellation, one behind the other in an epoch of one station that the first does not end. */
export function createLeapOfPairs(): LeapOfPairs {
  const counts = new Map<number, number>();
  let before: ObservationsMessage | null = null;
  let most: number | null = null;
  return {
    add(message) {
      const other = before;
      before = message;
      if (other === null || !other.isFollowed || other.stationId !== message.stationId || other.clock === message.clock)
        return;
      const [moscow, week] = message.clock === 'day' ? [message, other] : [other, message];
      const leapMs = leapOfPair(moscow.timeMs, gpsTimeOf(week, 0).ms);
      const seconds = Math.round(leapMs / 1000);
      if (Math.abs(leapMs - seconds * 1000) > AGREE_MS || !isLeapSeconds(seconds)) return;
      const count = (counts.get(seconds) ?? 0) + 1; // The first of its kind.
      counts.set(seconds, count);
      if (most === null || count > (counts.get(most) ?? 0)) most = seconds; // The most of a kind is counted.
    },
    leapSeconds: () => most,
  };
}
