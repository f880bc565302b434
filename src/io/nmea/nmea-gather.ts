import { nmeaSigmas, notNegative } from './nmea-epoch.js';
import type { NmeaPosition, NmeaSigmas } from './nmea-epoch.js';
import type { NmeaSentence } from './nmea-sentence.js';

/** A GGA position and where it stands. */
export interface NmeaClaim {
  readonly position: NmeaPosition;
  readonly talker: string;
  readonly line: number;
  readonly raw: string;
}

/** A position of a log with what was said beside it at its time. */
export interface NmeaEpoch extends NmeaClaim {
  readonly sigmas: NmeaSigmas | null;
  readonly pdop: number | null;
  readonly vdop: number | null;
}

/** The sentences of one time of day. */
export interface NmeaTime {
  readonly timeOfDayMs: number;
  /** A GGA without a satellite position. */
  readonly addNone: () => void;
  /**
   * A GGA with a position: `first` of its time; `same` where it says what the first says, whoever says it; else the first,
   * for where two differ none is the right one. From then on the time has no epoch.
   */
  readonly addPosition: (
    position: NmeaPosition,
    sentence: NmeaSentence,
    line: number,
    raw: string,
  ) => 'first' | 'same' | { readonly differsFrom: NmeaClaim; readonly isNew: boolean };
  readonly addSigmas: (sentence: NmeaSentence) => void;
  readonly addDops: (sentence: NmeaSentence) => void;
  /** The epoch; `without` where all that was said is that there is no satellite position; null where there is none to use. */
  readonly result: () => NmeaEpoch | 'without' | null;
}

type Values = readonly (number | null)[];

/**
 * Gathers the sentences of one time, so that what comes out does not depend on their order.
 * Of sigmas and dilutions of precision those of the position's own talker count, else all; where they differ, the larger
 * of each. Memory does not grow with the sentences.
 */
export function gatherTime(timeOfDayMs: number): NmeaTime {
  const talkers = new Set<string>();
  const sigmas = new Map<string, Values>();
  const dops = new Map<string, Values>();
  let first: NmeaClaim | null = null;
  let firstBody = '';
  let isContested = false;
  let isWithout = false;
  return {
    timeOfDayMs,
    addNone() {
      isWithout = true;
    },
    addPosition(position, { talker, body }, line, raw) {
      talkers.add(talker);
      if (first === null) {
        first = { position, talker, line, raw };
        firstBody = body;
        return 'first';
      }
      if (body === firstBody && !isContested) return 'same';
      const isNew = !isContested;
      isContested = true;
      return { differsFrom: first, isNew };
    },
    addSigmas(sentence) {
      const { sigmaEastM, sigmaNorthM, sigmaUpM } = nmeaSigmas(sentence);
      add(sigmas, sentence.talker, [sigmaEastM, sigmaNorthM, sigmaUpM]);
    },
    addDops(sentence) {
      add(dops, sentence.talker, [notNegative(sentence.field(15)), notNegative(sentence.field(17))]);
    },
    result() {
      if (first === null) return isWithout ? 'without' : null;
      if (isContested) return null;
      const [sigmaEastM = null, sigmaNorthM = null, sigmaUpM = null] = largest(sigmas, talkers);
      const [pdop = null, vdop = null] = largest(dops, talkers);
      return { ...first, sigmas: sigmas.size === 0 ? null : { sigmaEastM, sigmaNorthM, sigmaUpM }, pdop, vdop };
    },
  };
}

function add(said: Map<string, Values>, talker: string, values: Values): void {
  said.set(talker, largerOf(values, said.get(talker) ?? []));
}

/** The larger of each value of what these talkers say, or of all where they say nothing. */
function largest(said: ReadonlyMap<string, Values>, talkers: ReadonlySet<string>): Values {
  const own = [...said].filter(([talker]) => talkers.has(talker));
  const heard = own.length > 0 ? own : [...said];
  return heard.reduce<Values>((all, [, values]) => largerOf(values, all), []);
}

function largerOf(values: Values, others: Values): Values {
  return values.map((value, index) => {
    const other = others[index] ?? null;
    return value === null || other === null ? (value ?? other) : Math.max(value, other);
  });
}
