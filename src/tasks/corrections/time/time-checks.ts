import { isLeapSeconds } from '../../../core/corrections/leap-seconds.js';
import { gpsTimeOf, leapOfPair } from '../../../core/corrections/stream-times.js';
import type { Constellation, ObservationsMessage } from '../../../records/corrections/correction-message.js';
import type { TimeCheck } from '../../../records/corrections/correction-audit.js';

/** Times of one epoch that differ by no more than this agree: clocks of receivers round, milliseconds. */
const AGREE_MS = 10;

/** Times of constellations of the same epochs, held against each other. */
export interface TimeChecks {
  /** The messages of one epoch, one a constellation. */
  readonly compare: (messages: Iterable<ObservationsMessage>) => void;
  /** Seconds between GPS time and UTC that most epochs with GLONASS say; null: none says any. */
  readonly leapSeconds: () => number | null;
  /** Given the seconds between GPS time and UTC; null: what most epochs say counts. */
  readonly result: (leapSeconds: number | null) => readonly TimeCheck[];
}

interface Pairs {
  readonly constellation: Constellation;
  readonly against: Constellation;
  compared: number;
  agreeing: number;
  largestMs: number;
}

/** Whole seconds that pairs of GLONASS and another say, with how many did and how far off the second they were. */
interface LeapCount {
  readonly count: number;
  readonly largestMs: number;
}

const NO_LEAP: LeapCount = { count: 0, largestMs: 0 };

export function createTimeChecks(): TimeChecks {
  const pairs = new Map<Constellation, Pairs>();
  const leaps = new Map<number, LeapCount>();
  let moscowPairs = 0;
  let moscowAgainst: Constellation | null = null;

  const compareWeek = (message: ObservationsMessage, reference: ObservationsMessage): void => {
    const off = Math.abs(gpsTimeOf(message, 0).ms - gpsTimeOf(reference, 0).ms);
    const own = pairs.get(message.constellation) ?? {
      ...{ constellation: message.constellation, against: reference.constellation },
      ...{ compared: 0, agreeing: 0, largestMs: 0 },
    };
    pairs.set(message.constellation, own);
    own.compared += 1;
    if (off > AGREE_MS) return;
    own.agreeing += 1;
    own.largestMs = Math.max(own.largestMs, off);
  };
  const compareMoscow = (message: ObservationsMessage, reference: ObservationsMessage): void => {
    moscowAgainst = reference.constellation;
    moscowPairs += 1;
    const leapMs = leapOfPair(message.timeMs, gpsTimeOf(reference, 0).ms);
    const seconds = Math.round(leapMs / 1000);
    const off = Math.abs(leapMs - seconds * 1000);
    if (off > AGREE_MS || !isLeapSeconds(seconds)) return;
    const { count, largestMs } = leaps.get(seconds) ?? NO_LEAP;
    leaps.set(seconds, { count: count + 1, largestMs: Math.max(largestMs, off) });
  };
  const leapSeconds = (): number | null =>
    [...leaps].reduce<readonly [number | null, number]>(
      (best, [seconds, { count }]) => (count > best[1] ? [seconds, count] : best),
      [null, 0],
    )[0];

  return {
    compare(messages) {
      const all = [...messages];
      const reference = all.find(({ clock }) => clock === 'week');
      if (reference === undefined) return;
      for (const message of all)
        if (message !== reference) (message.clock === 'day' ? compareMoscow : compareWeek)(message, reference);
    },
    leapSeconds,
    result(stated) {
      const most = stated ?? leapSeconds();
      const { count, largestMs } = (most === null ? undefined : leaps.get(most)) ?? NO_LEAP;
      const moscow = { compared: moscowPairs, disagreeing: moscowPairs - count, largestMs };
      return [
        ...[...pairs.values()].map(({ agreeing, ...pair }) => ({ ...pair, disagreeing: pair.compared - agreeing })),
        ...(moscowAgainst === null ? [] : [{ constellation: 'GLONASS' as const, against: moscowAgainst, ...moscow }]),
      ];
    },
  };
}
