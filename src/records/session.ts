import type { BASE_COORDINATE_FIELDS, BASE_SIGMA_FIELDS } from './settings/base-fields.js';
import type { TABLE_FIELDS } from './settings/table-fields.js';
import type {
  ACCEPTANCE_FIELDS,
  FIELDWORK_FIELDS,
  HEIGHT_FIELDS,
  PRECISION_FIELDS,
  ROVER_FIELDS,
  SYSTEM_FIELDS,
  TOLERANCE_FIELDS,
} from './settings/session-fields.js';
import type { ColumnMapping } from './settings/column-reading.js';
import type { SettingsOf } from './settings/settings-of.js';
import type { GeocentricPoint, GeodeticPoint } from './points/point.js';

/** Where on the base set-up a coordinate belongs: antenna phase centre, reference point, or ground mark. */
export type BasePlace = SettingsOf<typeof BASE_COORDINATE_FIELDS>['at'];

/** A projected system with what leads to it: a grid, the system of the fixes and a shift between; paths from the session file. */
export type SystemSettings = SettingsOf<typeof SYSTEM_FIELDS>;
/** How tables of fixes are written. */
export type TableSettings = SettingsOf<typeof TABLE_FIELDS>;
/** The geoid. Without one there are no orthometric heights; without its sigma that is said. */
export type HeightSettings = SettingsOf<typeof HEIGHT_FIELDS>;
/** Antenna and pole. Without a phase centre offset no position is of a phase centre. */
export type RoverSettings = SettingsOf<typeof ROVER_FIELDS>;
/** Who measured and with what; null: not said. */
export type FieldworkSettings = SettingsOf<typeof FIELDWORK_FIELDS>;
/** Limits; null means not applied. Each refusal carries its own code. */
export type AcceptanceSettings = SettingsOf<typeof ACCEPTANCE_FIELDS>;
/** 95 % limits, metres; null: none. */
export type ToleranceSettings = SettingsOf<typeof TOLERANCE_FIELDS>;

/** Quality of a solution. NMEA 0183 GGA quality 4, 5, 2, 1 in that order. */
export type Solution = AcceptanceSettings['solution'][number];
export type GeoidInterpolation = HeightSettings['interpolation'];
/** Which way a tilt azimuth points: of the pole's top seen from its tip, or the reverse. */
export type TiltAzimuthConvention = NonNullable<RoverSettings['tiltAzimuth']>;
export type Conditions = PrecisionSettings['conditions'];

/** A sigma growing with baseline: `constantM` and `ppm` combined by root-sum-square or linearly. */
export interface ConstantPlusProportion {
  readonly constantM: number;
  readonly ppm: number;
}

/** The planning model, one sigma per axis, and what is added to it for each row. `horizontal`/`vertical` null: the model's own terms. */
export interface PrecisionSettings extends SettingsOf<typeof PRECISION_FIELDS> {
  readonly horizontal: ConstantPlusProportion | null;
  readonly vertical: ConstantPlusProportion | null;
}

/** The planning model itself. */
export type ModelSettings = Omit<PrecisionSettings, 'ageMmPerS'>;

/**
 * A base coordinate as typed: one of geodetic, geocentric or grid; `at` says where on the set-up. `frame` counts where the
 * fixes are in another frame than the grid; absent: a known coordinate is national, a broadcast one is taken as sent.
 */
export type BaseCoordinate = {
  readonly frame?: NonNullable<SettingsOf<typeof BASE_COORDINATE_FIELDS>['frame']>;
} & (
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

/** The international frame and epoch that a coordinate stands in. */
export interface InternationalFrame {
  /** Code of a system of an ITRF, `EPSG:n`. */
  readonly code: string;
  readonly epochYear: number;
  /** The plate the place lies on; null: that of the table of national frames. */
  readonly plate: string | null;
}

/** A known coordinate that a SINEX file holds. */
export interface SinexReference {
  readonly file: string;
  readonly code: string;
}

/** A mark that the coordinate of another was measured from: its place, and its error, one sigma per axis and in height. */
export interface InheritedMark {
  readonly place: GeocentricPoint;
  readonly horizontalM: number;
  readonly verticalM: number;
}

/** A file of settings or known coordinates that belongs to a run, as its record has it. */
export interface SettingsFile {
  readonly name: string;
  readonly kind: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface BaseSettings extends SettingsOf<typeof BASE_SIGMA_FIELDS> {
  readonly id: string;
  /** The day of a job that describes the set-up, and no other; absent: it stands as long as its window says. */
  readonly day?: string;
  /** Of a job: `known` is what the points of an earlier day say of a point; absent: it is typed, or there is none. */
  readonly knownFrom?: { readonly point: string; readonly day: string };
  /** Marks that `known` was measured from, with what their error is of the stated sigmas; absent: none. */
  readonly inherited?: readonly InheritedMark[];
  /** Receiver and antenna of the set-up, for pages; absent: not said. */
  readonly instrument?: string;
  /** Milliseconds since 1970-01-01T00:00:00Z, or null: open. */
  readonly fromMs: number | null;
  readonly toMs: number | null;
  readonly broadcast: BaseCoordinate;
  readonly known: BaseCoordinate | null;
  /** `known` stands in this frame and has to be taken to the national one first; absent: it is national, or as its `frame` says. */
  readonly knownIn?: InternationalFrame;
  /** `known` is what this file says; absent: it is typed, or there is none. */
  readonly knownSinex?: SinexReference;
  /** The file that `known` was read from; absent: it is typed, or follows from points. */
  readonly knownFile?: SettingsFile;
  /** Mark to antenna reference point. Slant: mark to the antenna's edge of the radius, offset up to it from the ARP. */
  readonly antennaHeight:
    | { readonly kind: 'vertical'; readonly heightM: number }
    | { readonly kind: 'slant'; readonly slantM: number; readonly radiusM: number; readonly offsetM: number }
    | null;
  /** ARP to phase centre, metres up; 0 where no coordinate is at `apc`, which alone uses it. */
  readonly phaseCentreOffsetM: number;
}

/** One base set-up or several and the work done from them: the session file, checked, with defaults filled in. */
export interface Session {
  readonly title: string | null;
  readonly system: SystemSettings | null;
  readonly height: HeightSettings;
  readonly rover: RoverSettings;
  readonly fieldwork: FieldworkSettings;
  readonly bases: readonly BaseSettings[];
  readonly acceptance: AcceptanceSettings;
  readonly precision: PrecisionSettings;
  readonly tolerance: ToleranceSettings;
  /** Our column name → the file's header. */
  readonly columns: ColumnMapping;
  /** How the tables are written that these columns are in. */
  readonly table: TableSettings;
  /** Code of a warning that is known and need not be repeated → why. */
  readonly acknowledge: Readonly<Record<string, string>>;
  /** Dotted key of every setting given in the file (others are defaults). */
  readonly given: readonly string[];
}
