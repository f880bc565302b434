import { msmBits } from '../../core/corrections/msm-bits.js';
import type { MsmDigit } from '../../core/corrections/msm-bits.js';
import type { Constellation, ObservationsMessage } from '../../records/corrections/correction-message.js';
import type { BitReader } from './bit-reader.js';

/** By the first three digits of the number of a multiple signal message. */
const CONSTELLATIONS: ReadonlyMap<number, Constellation> = new Map([
  [107, 'GPS'],
  [108, 'GLONASS'],
  [109, 'Galileo'],
  [110, 'SBAS'],
  [111, 'QZSS'],
  [112, 'BeiDou'],
  [113, 'NavIC'],
]);

/** Numbers of satellites in a mask, of signals in one, and the most cells of a message. */
const SATELLITE_BITS = 64;
const SIGNAL_BITS = 32;
const MOST_CELLS = 64;
/** Of the day of the week: the sender does not know it. */
const DAY_NOT_KNOWN = 7;

/** The constellation and the kind of a multiple signal message; null for any other number. */
export function msmOf(number: number): { readonly constellation: Constellation; readonly digit: MsmDigit } | null {
  const constellation = CONSTELLATIONS.get(Math.floor(number / 10));
  const digit = number % 10;
  return constellation === undefined || digit < 1 || digit > 7 ? null : { constellation, digit: digit as MsmDigit };
}

/** The head of a multiple signal message; null where its masks ask for more cells than a message may have. */
export function readMsmHead(
  number: number,
  { constellation, digit }: NonNullable<ReturnType<typeof msmOf>>,
  bits: BitReader,
): ObservationsMessage | null {
  const stationId = bits.unsigned(12);
  const isMoscow = constellation === 'GLONASS';
  const day = isMoscow ? bits.unsigned(3) : null;
  const timeMs = bits.unsigned(isMoscow ? 27 : 30);
  const isFollowed = bits.isSet();
  // Issue of the station's data 3, nothing 7, clock steering 2, external clock 2, smoothing 1 and its interval 3.
  bits.skip(18);
  const satellites = places(bits, SATELLITE_BITS).length;
  const signals = places(bits, SIGNAL_BITS);
  const pairs = satellites * signals.length;
  if (pairs > MOST_CELLS) return null;
  const cells = places(bits, pairs).length;
  return {
    kind: 'observations',
    number,
    stationId,
    constellation,
    clock: isMoscow ? 'day' : 'week',
    timeMs,
    dayOfWeek: day === DAY_NOT_KNOWN ? null : day,
    isFollowed,
    satellites,
    signals,
    cells,
    neededBytes: Math.ceil(msmBits(digit, satellites, signals.length, cells) / 8),
  };
}

/** Bits of the head and of a satellite of the older messages. From memory; those of 1004 and 1012 confirmed by real messages. */
const OLDER: ReadonlyMap<number, { readonly head: number; readonly satellite: number }> = new Map([
  [1001, { head: 64, satellite: 58 }],
  [1002, { head: 64, satellite: 74 }],
  [1003, { head: 64, satellite: 101 }],
  [1004, { head: 64, satellite: 125 }],
  [1009, { head: 61, satellite: 64 }],
  [1010, { head: 61, satellite: 79 }],
  [1011, { head: 61, satellite: 107 }],
  [1012, { head: 61, satellite: 130 }],
]);

/** Whether a number is one of the older messages of observations: GPS 1001 to 1004, GLONASS 1009 to 1012. */
export function isOlder(number: number): boolean {
  return OLDER.has(number);
}

/** The head of an older message of observations. */
export function readOlderHead(number: number, bits: BitReader): ObservationsMessage {
  const stationId = bits.unsigned(12);
  const isMoscow = number >= 1009;
  const timeMs = bits.unsigned(isMoscow ? 27 : 30);
  const isFollowed = bits.isSet();
  const satellites = bits.unsigned(5);
  const { head = 0, satellite = 0 } = OLDER.get(number) ?? {};
  return {
    kind: 'observations',
    number,
    stationId,
    constellation: isMoscow ? 'GLONASS' : 'GPS',
    clock: isMoscow ? 'day' : 'week',
    timeMs,
    dayOfWeek: null,
    isFollowed,
    satellites,
    signals: [],
    cells: null,
    neededBytes: Math.ceil((head + satellites * satellite) / 8),
  };
}

/** Places of the bits that are set, from 1. */
function places(bits: BitReader, count: number): readonly number[] {
  const set: number[] = [];
  for (let place = 1; place <= count; place += 1) if (bits.isSet()) set.push(place);
  return set;
}
