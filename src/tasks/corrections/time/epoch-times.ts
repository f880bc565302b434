import type { Regularity } from '../../../records/corrections/correction-audit.js';
import { createRegularity } from './regularity.js';
import type { ObservedTime } from './stream-clock.js';

/** Times of epochs: of messages with a time of their own; where there is none, those of GLONASS alone. */
export interface EpochTimes {
  readonly add: (time: ObservedTime) => void;
  readonly result: () => Regularity;
}

export function createEpochTimes(): EpochTimes {
  const own = createRegularity();
  const assumed = createRegularity();
  let hasOwn = false;
  return {
    add({ ms, by }) {
      if (ms === null || by === 'shown') return;
      hasOwn ||= by === 'own';
      (by === 'own' ? own : assumed).add(ms);
    },
    result: () => (hasOwn ? own : assumed).result(),
  };
}
