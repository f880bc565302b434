import type { Constellation } from '../corrections/correction-message.js';

/** Constellations that a sky is made of. */
export type SkySystem = Exclude<Constellation, 'SBAS' | 'NavIC'>;

/** In the order in which they are counted and written. */
export const SKY_SYSTEMS: readonly SkySystem[] = ['GPS', 'GLONASS', 'Galileo', 'BeiDou', 'QZSS'];

/** What is said of a satellite beside its orbit. */
interface ElementsHead {
  /** Its name in RINEX, such as `G07`. */
  readonly satellite: string;
  readonly system: SkySystem;
  /** The time the elements are for, milliseconds since 1970-01-01T00:00:00 on the clock of GPS, which keeps no leap seconds. */
  readonly referenceMs: number;
  /** Sent by the satellite about itself for some hours, or an almanac for weeks. */
  readonly origin: 'broadcast' | 'almanac';
  readonly isHealthy: boolean;
}

/** Elements of a Kepler orbit with its corrections, as IS-GPS-200 names them; of an almanac all corrections are 0. */
export interface KeplerElements extends ElementsHead {
  readonly kind: 'kepler';
  /** Reference time in its week, seconds, on the clock of its own system: the node is counted from there. */
  readonly referenceOfWeekS: number;
  /** A BeiDou satellite that stands over the equator: its elements are for a plane turned by −5°. */
  readonly isGeostationary: boolean;
  /** Root of the semi-major axis, √m. */
  readonly rootSemiMajorAxis: number;
  readonly eccentricity: number;
  readonly inclinationRad: number;
  readonly nodeRad: number;
  readonly perigeeRad: number;
  readonly meanAnomalyRad: number;
  readonly meanMotionDifferenceRadPerS: number;
  readonly nodeRateRadPerS: number;
  readonly inclinationRateRadPerS: number;
  readonly cucRad: number;
  readonly cusRad: number;
  readonly crcM: number;
  readonly crsM: number;
  readonly cicRad: number;
  readonly cisRad: number;
}

/** Place, velocity and the pull of sun and moon at the reference time, Earth-fixed in PZ-90, as GLONASS sends them. */
export interface StateElements extends ElementsHead {
  readonly kind: 'state';
  readonly xM: number;
  readonly yM: number;
  readonly zM: number;
  readonly vxMPerS: number;
  readonly vyMPerS: number;
  readonly vzMPerS: number;
  readonly axMPerS2: number;
  readonly ayMPerS2: number;
  readonly azMPerS2: number;
}

/** What tells where a satellite is. */
export type OrbitElements = KeplerElements | StateElements;
