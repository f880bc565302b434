import type { RowPlace } from './points/fix.js';

/** A vector as read: six entries of a geocentric covariance, or sigmas in the local axes of its start. */
export interface VectorRow {
  readonly fromId: string;
  readonly toId: string;
  readonly dxM: number;
  readonly dyM: number;
  readonly dzM: number;
  readonly geocentric: {
    readonly xx: number;
    readonly xy: number;
    readonly xz: number;
    readonly yy: number;
    readonly yz: number;
    readonly zz: number;
  } | null;
  readonly local: {
    readonly sigmaEastM: number;
    readonly sigmaNorthM: number;
    readonly sigmaUpM: number;
    readonly correlationEn: number;
  } | null;
  /** Set-up of the base at its start, and day; empty where not known. */
  readonly baseSetup: string;
  readonly day: string;
  readonly place: RowPlace;
}

/** What of a control point holds. */
export type ControlHold = 'fixed' | 'weighted' | 'plan' | 'height';

/** A control point of a network as read. */
export interface NetworkControlRow {
  readonly pointId: string;
  readonly geocentric: { readonly xM: number; readonly yM: number; readonly zM: number } | null;
  readonly gridFirst: number | null;
  readonly gridSecond: number | null;
  readonly latitudeDeg: number | null;
  readonly longitudeDeg: number | null;
  readonly ellipsoidalHeightM: number | null;
  readonly orthometricHeightM: number | null;
  readonly sigmaHorizontalM: number | null;
  readonly sigmaVerticalM: number | null;
  readonly held: ControlHold | null;
  /** Half a unit of the last digits of its places as written, the coarser of each form; absent: computed, not written. */
  readonly roundings?: {
    readonly geocentricM: number;
    readonly gridUnits: number;
    readonly angleDeg: number;
    readonly heightM: number;
  };
  readonly place: RowPlace;
}

/** A levelled height difference or a distance as read: to minus from, or between them. */
export interface LineRow {
  readonly fromId: string;
  readonly toId: string;
  readonly valueM: number;
  readonly sigmaM: number;
  readonly fromUpM: number;
  readonly toUpM: number;
  /** Zenith angle of the line at the instrument; null: not measured. */
  readonly zenithDeg: number | null;
  /** The air of a distance that was not corrected for it, and what the instrument reckons with; null: it was, or it is none. */
  readonly air: {
    readonly temperatureC: number;
    readonly pressureHpa: number;
    readonly vapour: { readonly humidityPercent: number } | { readonly wetBulbC: number };
    readonly wavelengthUm: number;
    readonly referenceIndex: number;
  } | null;
  readonly place: RowPlace;
}

/** Where an observation stands. */
export interface ObservationPlace {
  readonly source: string;
  readonly line: number;
  /** Rank among everything read, for output in the order of the input. */
  readonly rank: number;
}

/** Something read, and where it stands. */
export interface Placed<T> {
  readonly value: T;
  readonly place: ObservationPlace;
}
