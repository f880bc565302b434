import type { GeocentricPoint, GeodeticPoint, ReferencePoint } from './points/point.js';

/** Quality of a solution. NMEA 0183 GGA quality 4, 5, 2, 1 in that order. */
export type Solution = 'fixed' | 'float' | 'differential' | 'autonomous';

export type GeoidInterpolation = 'bilinear' | 'biquadratic' | 'bicubic';

/** Which way a tilt azimuth points: of the pole's top seen from its tip, or the reverse. */
export type TiltAzimuthConvention = 'top-from-tip' | 'tip-from-top';

/** Where on the base set-up a coordinate belongs: antenna phase centre, reference point, or ground mark. */
export type BasePlace = 'apc' | 'arp' | 'mark';

export type Conditions = 'quiet' | 'normal' | 'active';

export interface SystemSettings {
  /** `EPSG:n` or a PROJ definition string of a projected system. */
  readonly grid: string;
  /** Geographic system of the fixes; null: the base of the grid. */
  readonly fixes: string | null;
  readonly epochYear: number | null;
  /** Path of a shift file, relative to the session file, or the code of an operation; null: none. */
  readonly shift: string | null;
}

export interface HeightSettings {
  /** `egm96`, a path relative to the session file, or null: no orthometric heights. */
  readonly geoid: string | null;
  readonly interpolation: GeoidInterpolation;
  /** The frame the grid is stated to be given in, `EPSG:n`, which counts instead of the file's own word. */
  readonly geoidFrame: string | null;
  /** One sigma of the geoid height, metres; null: not stated, and said so. */
  readonly sigmaM: number | null;
}

export interface RoverSettings {
  readonly referencePoint: ReferencePoint | null;
  /** Antenna reference point to phase centre, metres along the pole; null: not stated, and then no position is of a phase centre. */
  readonly phaseCentreOffsetM: number | null;
  readonly poleLengthM: number | null;
  readonly poleSigmaM: number;
  /** One sigma of an unmeasured lean, degrees, per axis. */
  readonly plumbSigmaDeg: number;
  readonly tiltSigmaDeg: number;
  readonly tiltAzimuthSigmaDeg: number;
  readonly tiltAzimuth: TiltAzimuthConvention | null;
}

/**
 * A base coordinate as typed: one of geodetic, geocentric or grid; `at` says where on the set-up. `frame` counts where the
 * fixes are in another frame than the grid; absent: a known coordinate is national, a broadcast one is taken as sent.
 */
export type BaseCoordinate = { readonly frame?: 'fixes' | 'national' } & (
  | ({ readonly kind: 'geodetic'; readonly at: BasePlace } & GeodeticPoint)
  | ({ readonly kind: 'geocentric'; readonly at: BasePlace } & GeocentricPoint)
  | {
      readonly kind: 'geodetic-orthometric';
      readonly at: BasePlace;
      readonly latitudeDeg: number;
      readonly longitudeDeg: number;
      readonly orthometricHeightM: number;
    }
  | {
      readonly kind: 'grid';
      readonly at: BasePlace;
      /** Values in the grid system's own axes and unit, keyed by axis column name, e.g. `westing_m`. */
      readonly values: Readonly<Record<string, number>>;
      readonly height:
        | { readonly kind: 'ellipsoidal'; readonly ellipsoidalHeightM: number }
        | { readonly kind: 'orthometric'; readonly orthometricHeightM: number };
    }
);

export interface BaseSettings {
  readonly id: string;
  /** Milliseconds since 1970-01-01T00:00:00Z, or null: open. */
  readonly fromMs: number | null;
  readonly toMs: number | null;
  readonly broadcast: BaseCoordinate;
  readonly known: BaseCoordinate | null;
  /** Mark to antenna reference point. Slant: mark to the antenna's edge of the radius, offset up to it from the ARP. */
  readonly antennaHeight:
    | { readonly kind: 'vertical'; readonly heightM: number }
    | { readonly kind: 'slant'; readonly slantM: number; readonly radiusM: number; readonly offsetM: number }
    | null;
  /** ARP to phase centre, metres up; 0 where no coordinate is at `apc`, which alone uses it. */
  readonly phaseCentreOffsetM: number;
  /** One sigma per horizontal axis of the coordinate used, mark and set-up together; null: not stated, and said so. */
  readonly sigmaHorizontalM: number | null;
  readonly sigmaVerticalM: number | null;
  /** The part of it that setting up anew makes anew; null: as assumed in src/tasks/repeats/set-up-identity.ts. */
  readonly antennaHeightSigmaM: number | null;
  readonly centringSigmaM: number | null;
}

/** Limits; null means not applied. Each refusal carries its own code. */
export interface AcceptanceSettings {
  readonly solutions: readonly Solution[];
  readonly maxPdop: number | null;
  readonly maxCorrectionAgeS: number | null;
  readonly minSatellites: number | null;
  readonly maxTiltDeg: number | null;
  readonly maxBaselineM: number | null;
  readonly minEpochs: number | null;
  readonly minDurationS: number | null;
  readonly maxSigmaHorizontalM: number | null;
  readonly maxSigmaVerticalM: number | null;
  /** A gap longer than this between epochs of one point starts a new occupation, seconds. */
  readonly occupationGapS: number;
}

/** A sigma growing with baseline: `constantM` and `ppm` combined by root-sum-square or linearly. */
export interface ConstantPlusProportion {
  readonly constantM: number;
  readonly ppm: number;
}

/** One sigma per axis. `horizontal`/`vertical` null: the model's own terms for the conditions. */
export interface ModelSettings {
  readonly conditions: Conditions;
  readonly horizontal: ConstantPlusProportion | null;
  readonly vertical: ConstantPlusProportion | null;
  readonly combine: 'rss' | 'linear';
  /** Correlation times of the slowly varying error, seconds; null: by baseline length (see docs/methods/uncertainty.md). */
  readonly correlationHorizontalS: number | null;
  readonly correlationVerticalS: number | null;
}

/** The planning model, and what is added to it for each row. */
export interface PrecisionSettings extends ModelSettings {
  /** Growth of the error with the age of the corrections, millimetres a second, one sigma per axis; 0: left out. */
  readonly ageMmPerS: number;
}

export interface ToleranceSettings {
  /** 95 % limits, metres; null: none. */
  readonly horizontalM: number | null;
  readonly verticalM: number | null;
}

/** One base set-up or several and the work done from them: the session file, checked, with defaults filled in. */
export interface Session {
  readonly title: string | null;
  readonly system: SystemSettings | null;
  readonly height: HeightSettings;
  readonly rover: RoverSettings;
  readonly bases: readonly BaseSettings[];
  readonly acceptance: AcceptanceSettings;
  readonly precision: PrecisionSettings;
  readonly tolerance: ToleranceSettings;
  /** Our column name → the file's header. */
  readonly columns: Readonly<Record<string, string>>;
  /** Dotted key of every setting given in the file (others are defaults). */
  readonly given: readonly string[];
}
