import type { GeocentricPoint } from '../../../records/points/point.js';

/** How a shift is computed; `shift-methods.ts` gives each its EPSG codes and formula. */
export type ShiftMethod =
  | 'geocentric-translation'
  | 'position-vector'
  | 'coordinate-frame'
  | 'time-dependent-position-vector'
  | 'time-dependent-coordinate-frame'
  | 'molodensky-badekas-position-vector'
  | 'molodensky-badekas-coordinate-frame';

/**
 * Which way a positive rotation turns: the position vector (as IAG and ISO 19111 prefer) or the
 * coordinate frame. The same shift has opposite rotation signs in the two; mixing them up moves
 * points by metres.
 */
export type RotationConvention = 'position-vector' | 'coordinate-frame';

/** What was asked of the rotation matrix. `automatic`: the full matrix where any rotation exceeds 2″. */
export type RotationMatrixChoice = 'automatic' | 'small-angle' | 'full';

/** What the rotation matrix came to be; written into the run record. */
export type RotationForm = 'none' | 'small-angle' | 'full';

/** `forward` is from the shift's `from` frame to its `to` frame. */
export type ShiftDirection = 'forward' | 'inverse';

/** The seven parameters of a similarity in space, in the units publications and shift files use. */
export interface ShiftParameters {
  readonly txM: number;
  readonly tyM: number;
  readonly tzM: number;
  readonly rxArcsec: number;
  readonly ryArcsec: number;
  readonly rzArcsec: number;
  readonly dsPpm: number;
}

/** Change of each parameter per year. */
export interface ShiftRates {
  readonly txMPerYear: number;
  readonly tyMPerYear: number;
  readonly tzMPerYear: number;
  readonly rxArcsecPerYear: number;
  readonly ryArcsecPerYear: number;
  readonly rzArcsecPerYear: number;
  readonly dsPpmPerYear: number;
}

/** A box of latitude and longitude with its description; west greater than east crosses the 180th meridian. */
export interface ShiftArea {
  readonly southDeg: number;
  readonly westDeg: number;
  readonly northDeg: number;
  readonly eastDeg: number;
  readonly description: string;
}

/**
 * A shift between two geodetic frames, as data.
 *
 * `heights` says what becomes of the ellipsoidal height: `transformed` with the rest, or `kept`
 * because one of the frames has no ellipsoidal heights (a horizontal datum of triangulation), so
 * that the computed one would mean nothing.
 */
export interface Shift {
  /** Registry code such as `EPSG:1504`, or null for a shift of the user's own. */
  readonly code: string | null;
  readonly name: string;
  readonly method: ShiftMethod;
  readonly parameters: ShiftParameters;
  /** Present with the time-dependent methods only. */
  readonly rates: ShiftRates | null;
  /** Year in which `parameters` hold; null without rates. */
  readonly referenceEpochYear: number | null;
  /** Evaluation point of the Molodensky-Badekas methods, in the source frame; null with the others. */
  readonly pivot: GeocentricPoint | null;
  readonly rotationMatrix: RotationMatrixChoice;
  readonly heights: 'transformed' | 'kept';
  /** Name of the source and target frames, where known. */
  readonly from: string | null;
  readonly to: string | null;
  readonly accuracyM: number | null;
  readonly area: ShiftArea | null;
  /** Where the parameters were published, in words. */
  readonly source: string | null;
}

/** A geocentric position that the hot path writes its answer into. */
export interface MutableGeocentric {
  xM: number;
  yM: number;
  zM: number;
}

/** A shift made ready: reads X, Y, Z (metres) and writes the shifted position into `out`. */
export type ShiftFunction = (xM: number, yM: number, zM: number, out: MutableGeocentric) => void;

/** No translation, rotation or scale: a base to spread partial parameters over. */
export const NO_SHIFT_PARAMETERS: ShiftParameters = {
  txM: 0,
  tyM: 0,
  tzM: 0,
  rxArcsec: 0,
  ryArcsec: 0,
  rzArcsec: 0,
  dsPpm: 0,
};
