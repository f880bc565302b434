import type { AxisSigns } from '../../grid/systems/grid-axes.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GeographicPair, GridPair, GridStatus } from '../../grid/systems/grid-system.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { FrameShift } from './hypotheses/frame-shift.js';

/** One check of control, as the search for causes sees it. Lengths in metres whatever the grid's unit. */
export interface CausePoint {
  readonly pointId: string;
  readonly occupation: string;
  /** Measured minus known along grid east, grid north and up; null where that is not compared. */
  readonly eastM: number | null;
  readonly northM: number | null;
  readonly upM: number | null;
  /** Known position; null without a system that gives it. */
  readonly latitudeDeg: number | null;
  readonly longitudeDeg: number | null;
  /** Degrees, positive where grid north is east of true north; 0 without a grid. */
  readonly convergenceDeg: number;
  readonly pointScaleFactor: number;
  readonly combinedFactor: number | null;
  /** Known grid pair, in the system's own axes; null where there is none. */
  readonly knownFirstM: number | null;
  readonly knownSecondM: number | null;
  /** Known height of the kind compared. */
  readonly knownHeightM: number | null;
  readonly geoidHeightM: number | null;
  /** Key of its base set-up in `CauseDay.bases`; the base's id where the session describes none. */
  readonly baseId: string | null;
  readonly distanceM: number | null;
  /** True azimuth of the line from the base, at the point. */
  readonly azimuthDeg: number | null;
  /** Point minus base. */
  readonly heightDifferenceM: number | null;
  /** Middle of the occupation, milliseconds since 1970-01-01T00:00:00Z. */
  readonly middleMs: number | null;
  readonly poleLengthM: number | null;
  /** Tilt measured at the stand and taken off, degrees; null or left out: not known of this stand. */
  readonly tiltDeg?: number | null;
  /** Of the measured position, m². */
  readonly covariance: LocalCovariance;
  /** What the repeats of the day add to that, m² (one axis in plan, and height); left out: nothing. */
  readonly dayNoise?: { readonly planM2: number; readonly upM2: number };
  /** Variance per axis of the known position, m². */
  readonly controlHorizontalM2: number;
  readonly controlVerticalM2: number;
}

/** What is known of a base set-up. */
export interface CauseBase {
  /** Its id, and where several set-ups have it the time from which it holds. */
  readonly name: string;
  /** Set-ups on one mark share `markSigmas` of their error. */
  readonly markKey: string;
  readonly markSigmas: { readonly horizontalM: number; readonly verticalM: number };
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Null: not stated. */
  readonly sigmaHorizontalM: number | null;
  readonly sigmaVerticalM: number | null;
  /** As the session states it; null: not stated. */
  readonly antenna: CauseAntenna | null;
}

/** Height of a base antenna as it was used. A plate: the rim that a slant is measured to. */
export interface CauseAntenna {
  readonly kind: 'vertical' | 'slant';
  /** What was measured. */
  readonly heightM: number;
  /** Mark to reference point as it was used. */
  readonly verticalM: number;
  /** Plates that a slant may have been measured to: the base's own, or those of the session's other bases. */
  readonly plates: readonly AntennaPlate[];
}

/** Radius of an antenna's rim, and its height over the reference point. */
export interface AntennaPlate {
  readonly radiusM: number;
  readonly offsetM: number;
}

/** A zone other than the system's own. */
export interface OtherZone {
  readonly name: string;
  readonly forward: (latitudeDeg: number, longitudeDeg: number, out: GridPair) => GridStatus;
  readonly inverse: (first: number, second: number, out: GeographicPair) => GridStatus;
}

/** Everything the search for causes looks at. */
export interface CauseDay {
  readonly points: readonly CausePoint[];
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** By set-up. */
  readonly bases: ReadonlyMap<string, CauseBase>;
  /** What turns the first and the second axis to east and north. */
  readonly axisSigns: AxisSigns;
  /** Metres in one unit of the grid. */
  readonly metresPerUnit: number;
  readonly correlationHorizontalS: number;
  readonly correlationVerticalS: number;
  /** One sigma of the geoid heights; 0 where they are not used or not stated. */
  readonly geoidSigmaM: number;
  /** Phase-centre offsets that the session states, rover and bases. */
  readonly phaseCentreOffsetsM: readonly number[];
  /** Tilts of the pole are measured and taken off, so that one may have been left out. */
  readonly isTiltMeasured: boolean;
  /** Largest tilt that the session accepts; null: no limit. */
  readonly largestLeanDeg: number | null;
  /** Published shifts between the system's frame and others. */
  readonly frameShifts: readonly FrameShift[];
  readonly ellipsoid: Ellipsoid;
  /** Every measured pair is that of its own latitude and longitude in the system: what was slipped in a pair is on the known side. Left out: not known. */
  readonly isMeasuredSound?: boolean;
  readonly forward: OtherZone['forward'] | null;
  readonly inverse: ((first: number, second: number, out: GeographicPair) => GridStatus) | null;
  readonly otherZones: readonly OtherZone[];
}
