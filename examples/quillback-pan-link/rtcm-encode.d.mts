export declare function bits(value: number, count: number): string;
export declare function stationBits(station: {
  readonly stationId: number;
  readonly itrfYear?: number;
  readonly isComputed?: boolean;
  readonly xM: number;
  readonly yM: number;
  readonly zM: number;
  readonly quarterCycle?: number;
  readonly antennaHeightM?: number | null;
}): string;
export declare function namesBits(names: {
  readonly stationId: number;
  readonly antenna: string;
  readonly setupId?: number;
  readonly antennaSerial?: string | null;
  readonly receiver?: string | null;
  readonly firmware?: string;
  readonly receiverSerial?: string;
}): string;
export declare function announcementBits(announcement: {
  readonly stationId: number;
  readonly modifiedJulianDay: number;
  readonly secondOfDay: number;
  readonly leapSeconds: number;
  readonly announced: readonly {
    readonly number: number;
    readonly isSynchronous: boolean;
    readonly intervalS: number;
  }[];
}): string;
export declare function textBits(text: {
  readonly stationId: number;
  readonly modifiedJulianDay: number;
  readonly secondOfDay: number;
  readonly text: string;
}): string;
export declare function biasesBits(biases: {
  readonly stationId: number;
  readonly isAligned: boolean;
  readonly steps: readonly (number | null)[];
}): string;
export declare function msmBits(message: {
  readonly number: number;
  readonly stationId: number;
  readonly timeMs: number;
  readonly dayOfWeek?: number | null;
  readonly isFollowed: boolean;
  readonly satellites: readonly number[];
  readonly signals: readonly number[];
  readonly cells: readonly boolean[];
  readonly random?: (() => number) | null;
}): string;
export declare function olderBits(message: {
  readonly number: number;
  readonly stationId: number;
  readonly timeMs: number;
  readonly isFollowed: boolean;
  readonly satellites: number;
  readonly behind: number;
}): string;
export declare function frameOf(contentBits: string, padding?: number): Uint8Array;
