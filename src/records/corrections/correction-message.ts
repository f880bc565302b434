/** A constellation whose observations a correction stream carries. */
export type Constellation = 'GPS' | 'GLONASS' | 'Galileo' | 'SBAS' | 'QZSS' | 'BeiDou' | 'NavIC';

/** Coordinate of a reference station: 1005, or 1006 with the height of the antenna. */
export interface StationMessage {
  readonly kind: 'station';
  readonly number: 1005 | 1006;
  readonly stationId: number;
  /** Year of an ITRF realisation as a number of six bits; 0, nearly always: not said. */
  readonly itrfYear: number;
  /** The coordinate was computed, and no antenna stands there. */
  readonly isComputed: boolean;
  /** Antenna reference point, geocentric metres, whole tenths of a millimetre. */
  readonly xM: number;
  readonly yM: number;
  readonly zM: number;
  /** Quarter-cycle correction of phases, 0 to 3. */
  readonly quarterCycle: number;
  /** Antenna reference point above the mark, metres; null in 1005. */
  readonly antennaHeightM: number | null;
}

/** Names of antenna and receiver: 1007, 1008 or 1033; null: the message has no room for it. */
export interface NamesMessage {
  readonly kind: 'names';
  readonly number: 1007 | 1008 | 1033;
  readonly stationId: number;
  readonly antenna: string;
  readonly setupId: number;
  readonly antennaSerial: string | null;
  readonly receiver: string | null;
  readonly firmware: string | null;
  readonly receiverSerial: string | null;
}

/** What the stream says of itself: 1013. */
export interface AnnouncementMessage {
  readonly kind: 'announcement';
  readonly number: 1013;
  readonly stationId: number;
  /** UTC: modified Julian day and seconds of it. */
  readonly modifiedJulianDay: number;
  readonly secondOfDay: number;
  /** GPS time minus UTC, seconds. */
  readonly leapSeconds: number;
  readonly announced: readonly {
    readonly number: number;
    readonly isSynchronous: boolean;
    readonly intervalS: number;
  }[];
}

/** A line of text: 1029. */
export interface TextMessage {
  readonly kind: 'text';
  readonly number: 1029;
  readonly stationId: number;
  readonly modifiedJulianDay: number;
  readonly secondOfDay: number;
  readonly characters: number;
  readonly text: string;
}

/** Code-phase biases of GLONASS: 1230. */
export interface BiasesMessage {
  readonly kind: 'biases';
  readonly number: 1230;
  readonly stationId: number;
  readonly isAligned: boolean;
  /** By signal, metres; null: sent as not valid. */
  readonly biasesM: readonly { readonly signal: string; readonly biasM: number | null }[];
}

/** The head of a message of observations: 1001 to 1004, 1009 to 1012, 1071 to 1137. */
export interface ObservationsMessage {
  readonly kind: 'observations';
  readonly number: number;
  readonly stationId: number;
  readonly constellation: Constellation;
  /** `week`: milliseconds of the constellation's week; `day`: of the Moscow day, beside the day of the week where it is sent. */
  readonly clock: 'week' | 'day';
  readonly timeMs: number;
  /** Day of the week of a GLONASS time, 0 Sunday; null: not sent, or not known to the sender. */
  readonly dayOfWeek: number | null;
  /** More messages of the same epoch follow. */
  readonly isFollowed: boolean;
  readonly satellites: number;
  /** Numbers of the signals sent, from 1; empty where the message has no mask of signals. */
  readonly signals: readonly number[];
  /** Pairs of satellite and signal; null where the message has no mask of them. */
  readonly cells: number | null;
  /** Bytes that the content needs; what is longer is padding. Null: not known. */
  readonly neededBytes: number | null;
}

/** Any other message, which is counted. Ephemerides and messages of makers name no station. */
export interface OtherMessage {
  readonly kind: 'other';
  readonly number: number;
}

/** A content too short for its number, or for any. */
export interface ShortMessage {
  readonly kind: 'short';
  /** Null: the content is empty, a filler, or has no room for a number. */
  readonly number: number | null;
}

export type CorrectionMessage =
  | StationMessage
  | NamesMessage
  | AnnouncementMessage
  | TextMessage
  | BiasesMessage
  | ObservationsMessage
  | OtherMessage
  | ShortMessage;
