import type { SkySystem } from './orbit-elements.js';
import type { Answer } from '../runs/run-answer.js';

/** Dilution of precision: sigmas of a position, and of its clocks, for ranges of one unit sigma. Dimensionless. */
export interface Dilution {
  readonly gdop: number;
  readonly pdop: number;
  readonly hdop: number;
  readonly vdop: number;
  readonly tdop: number;
}

/** A place from which the sky is planned; heights in metres above the ellipsoid, null: not known, and reckoned as 0. */
export interface SkySite {
  readonly id: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
  /** Places of its skyline, degrees; empty: none was measured. */
  readonly skyline: readonly { readonly azimuthDeg: number; readonly elevationDeg: number }[];
}

/** The instants of a plan: from one, included, to another, excluded; UTC, milliseconds since 1970. */
export interface SkyTimes {
  readonly fromMs: number;
  readonly toMs: number;
  readonly intervalS: number;
}

/** Limits that a sky is judged by. */
export interface SkyLimits {
  readonly pdop: number;
  readonly satellites: number;
}

/** Why an instant misses the limits. */
export type SkyReason = 'sky-few-satellites' | 'sky-high-pdop';

/** The sky of a site at an instant. */
export interface SkyEpoch {
  readonly utcMs: number;
  /** Above the masks of both ends; above those of the site alone; above those of the base alone, null: no base. */
  readonly satellites: number;
  readonly satellitesAtSite: number;
  readonly satellitesAtBase: number | null;
  /** Of `satellites`, in the order of `SKY_SYSTEMS`. */
  readonly bySystem: readonly number[];
  /** Of `satellites`, seen from the site; null: they do not place a point. */
  readonly dilution: Dilution | null;
  readonly reasons: readonly SkyReason[];
}

/** A run of instants that all meet the limits, or all miss them. */
export interface SkyWindow {
  readonly fromMs: number;
  /** When the first instant of the next window is, or the plan ends. */
  readonly toMs: number;
  readonly isGood: boolean;
  readonly fewestSatellites: number;
  /** Null: at some instant the satellites do not place a point. */
  readonly largestPdop: number | null;
  readonly reasons: readonly SkyReason[];
}

/** A satellite above the horizon of a site at an instant. */
export interface SkySight {
  readonly satellite: string;
  readonly system: SkySystem;
  readonly utcMs: number;
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
  readonly isAboveSiteMask: boolean;
  /** Null: no base. */
  readonly isAboveBaseMask: boolean | null;
}

/** The sky of one site over the time planned. */
export interface SiteSky {
  readonly site: SkySite;
  readonly epochs: readonly SkyEpoch[];
  readonly windows: readonly SkyWindow[];
  readonly verdict: Answer;
}
