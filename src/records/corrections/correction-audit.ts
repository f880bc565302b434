import type { GeocentricPoint, GeodeticPoint } from '../points/point.js';
import type { Constellation } from './correction-message.js';
import type { FrameCounts } from './frame-counts.js';

// Times of a stream are milliseconds of GPS time from the beginning of the week of its first epoch, and go on beyond it.

/** A list that holds so many at most, and how many it left out. */
export interface Listed<T> {
  readonly listed: readonly T[];
  readonly leftOut: number;
}

/** A stretch without what was due. */
export interface StreamGap {
  readonly fromMs: number;
  readonly toMs: number;
}

/** How regularly something came. */
export interface Regularity {
  /** Times at which it came, each counted once. */
  readonly count: number;
  /** Null: it came at no known time. */
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly meanIntervalS: number | null;
  /** The interval met most often. */
  readonly usualIntervalS: number | null;
  readonly longestGapS: number | null;
  /** Intervals well above the usual one, by time. */
  readonly gaps: Listed<StreamGap>;
  /** How often time stepped back: logs put together, or two streams in one. */
  readonly stepsBack: number;
}

/** A time from when to when the same was said. */
export interface Said {
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly count: number;
}

/** A coordinate that a station sent, unchanged between two times. */
export interface SentPosition extends Said {
  /** Antenna reference point. */
  readonly arp: GeocentricPoint;
  readonly geodetic: GeodeticPoint;
  /** Above the mark, metres; null: only 1005 came, which has none. */
  readonly antennaHeightM: number | null;
  /** The mark below it; null where the height is not sent. */
  readonly mark: GeocentricPoint | null;
  readonly markGeodetic: GeodeticPoint | null;
  readonly itrfYear: number;
  readonly isComputed: boolean;
  readonly quarterCycle: number;
}

/** Names that a station sent. */
export interface SentNames extends Said {
  readonly antenna: string;
  readonly setupId: number;
  readonly antennaSerial: string | null;
  readonly receiver: string | null;
  readonly firmware: string | null;
  readonly receiverSerial: string | null;
}

/** What a station sent of one constellation. */
export interface SentConstellation {
  readonly constellation: Constellation;
  readonly messages: readonly number[];
  readonly signals: readonly string[];
  readonly meanSatellites: number;
  readonly mostSatellites: number;
}

/** Times of two constellations held against each other, epoch by epoch. */
export interface TimeCheck {
  readonly constellation: Constellation;
  readonly against: Constellation;
  readonly compared: number;
  readonly disagreeing: number;
  /** Largest difference of those that agree, milliseconds. */
  readonly largestMs: number;
}

/** Messages of one number from one station. */
export interface SentMessages extends Regularity {
  /** Null: the message names none. */
  readonly stationId: number | null;
  readonly number: number;
  /** Messages, where `count` is of their times. */
  readonly messages: number;
  /** Whole frames. */
  readonly bytes: number;
  /** Bytes of contents that nothing needed; null: not known of this message. */
  readonly paddingBytes: number | null;
  readonly announcedIntervalS: number | null;
}

/** Everything that one station sent. */
export interface StationAudit {
  readonly stationId: number;
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly bytes: number;
  readonly positions: Listed<SentPosition>;
  readonly names: Listed<SentNames>;
  readonly epochs: Regularity;
  /** Epochs whose last message, which says that none follows, did not come. */
  readonly incompleteEpochs: number;
  readonly constellations: readonly SentConstellation[];
  readonly biases: {
    readonly isAligned: boolean;
    readonly biasesM: readonly { readonly signal: string; readonly biasM: number | null }[];
  } | null;
  readonly timeChecks: readonly TimeCheck[];
  readonly texts: Listed<{ readonly atMs: number | null; readonly text: string }>;
}

/** Where seconds between GPS time and UTC come from: 1013; GPS and GLONASS of the same epochs; the table of steps; none of them. */
export type LeapOrigin = 'announced' | 'reconciled' | 'table' | 'assumed';

/** How times of the stream become times of the calendar. */
export interface StreamCalendar {
  /** The zero of the stream's times as GPS time, milliseconds since 1970-01-01T00:00:00 of its own scale; null: the date is not known. */
  readonly zeroMs: number | null;
  readonly dateFrom: 'option' | 'message' | null;
  readonly leapSeconds: number;
  readonly leapFrom: LeapOrigin;
  /** Of the dates and times that the stream says of itself the farthest one minus that of its epochs then, seconds; null: it says none, or no date is known. */
  readonly statedOffS: number | null;
}

/** One file. */
export interface StreamFile {
  readonly name: string;
  readonly frames: FrameCounts;
  readonly firstMs: number | null;
  readonly lastMs: number | null;
}

/** What recorded correction streams hold. */
export interface CorrectionAudit {
  readonly files: readonly StreamFile[];
  readonly frames: FrameCounts;
  /** Contents too short for what they say they are. */
  readonly shortMessages: number;
  readonly calendar: StreamCalendar;
  readonly stations: readonly StationAudit[];
  readonly messages: readonly SentMessages[];
  /** Bytes of good frames. */
  readonly bytes: number;
  /** Over the time of all files, each from its first epoch to the end of its last; null: no time is known. */
  readonly seconds: number | null;
  /** Packets, for what the network adds: one an epoch. */
  readonly epochs: number;
}
