import type { Constellation, ObservationsMessage } from '../../../records/corrections/correction-message.js';
import type { TimeCheck } from '../../../records/corrections/correction-audit.js';
import { createTimeChecks } from './time-checks.js';
import { createUsualOffsets } from './usual-offsets.js';

/** The messages of one station, epoch by epoch. */
export interface EpochSets {
  readonly add: (message: ObservationsMessage) => void;
  /** Epochs that were never said to be complete; the last one may still be. */
  readonly incomplete: () => number;
  /** Given the seconds between GPS time and UTC; null: what most pairs say counts. */
  readonly timeChecks: (leapSeconds: number | null) => readonly TimeCheck[];
  /** Seconds between GPS time and UTC that most epochs with GLONASS say; null: none says any. */
  readonly leapSeconds: () => number | null;
}

/**
 * Puts messages together to epochs: an epoch ends with the message that says that none follows. A constellation that comes with another time
 * before that, or that lies otherwise beside the first of the epoch than usual, begins the next one, and the one before is incomplete.
 */
export function createEpochSets(): EpochSets {
  const checks = createTimeChecks();
  const offsets = createUsualOffsets();
  let open = new Map<Constellation, ObservationsMessage>();
  let isFirst = true;
  let incomplete = 0;

  const close = (isComplete: boolean): void => {
    // A recording may begin within an epoch.
    if (!isComplete && !isFirst) incomplete += 1;
    isFirst = false;
    checks.compare(open.values());
    open = new Map();
  };

  return {
    add(message) {
      const known = open.get(message.constellation);
      const [first] = open.values();
      const isOfNext =
        known === undefined
          ? first !== undefined && offsets.areOfTwoEpochs(first, message)
          : known.timeMs !== message.timeMs;
      if (isOfNext) close(false);
      open.set(message.constellation, message);
      if (!message.isFollowed) close(true);
    },
    incomplete: () => incomplete,
    leapSeconds: checks.leapSeconds,
    timeChecks: checks.result,
  };
}
