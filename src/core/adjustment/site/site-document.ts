import type { SiteAxes } from './site-axes.js';
import type { SiteTransform } from './site-transform.js';

/** What a number of the fit was made from and how well it fitted; everything a later reader must know. */
export interface SiteQuality {
  readonly pointsFitted: number;
  readonly redundancy: number;
  /** vᵀPv / redundancy; null without redundancy. */
  readonly varianceFactor: number | null;
  readonly sigmasAreStated: boolean;
  /** Half-width of a 95 % interval in sigmas; null where sigmas are neither stated nor estimated. */
  readonly factor95: number | null;
}

/** A control point and what the fit leaves of it. */
export interface SiteControlPoint {
  readonly pointId: string;
  readonly role: 'fit' | 'check';
  /** Fitted or predicted minus control, along the site's east and north, metres. */
  readonly residualEastM: number | null;
  readonly residualNorthM: number | null;
  readonly residualHeightM: number | null;
}

/** An input the site was made from. */
export interface SiteInput {
  readonly role: string;
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** The content of a site file. */
export interface SiteDocument {
  readonly toolVersion: string;
  readonly title: string;
  /** `EPSG:n` or the PROJ string of the source system, as given. */
  readonly system: string;
  readonly systemName: string;
  readonly sourceAxes: SiteAxes;
  readonly siteAxes: SiteAxes;
  readonly transform: SiteTransform;
  /** True where the scale was estimated. */
  readonly scaleIsFree: boolean;
  /** Which height the plane is added to; null with no vertical fit. */
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** Name and SHA-256 of the geoid the heights came through where the fit applied one; null: they were read as orthometric. */
  readonly geoid: { readonly name: string; readonly sha256: string | null } | null;
  /** Points farther outside the control's hull than this are refused unless asked for, metres. */
  readonly bufferM: number;
  readonly horizontalQuality: SiteQuality;
  readonly verticalQuality: SiteQuality | null;
  readonly statements: readonly string[];
  readonly control: readonly SiteControlPoint[];
  readonly inputs: readonly SiteInput[];
}
