import type { GeocentricPoint, GeodeticPoint, ReferencePoint } from './point.js';
import type { Solution } from '../session.js';

/** Place of a fix in its input, small enough to carry on every row. */
export interface RowPlace {
  /** Index into the run's list of inputs. */
  readonly sourceIndex: number;
  /** Line on which the record starts, from 1; 0 when not yet resolved (see io/csv-read.ts). */
  readonly line: number;
}

/** One epoch, or one averaged point, as read: units converted, words checked, nothing reduced. */
export interface Fix {
  readonly pointId: string;
  /** Set where the point is named after its log: the whole log is one occupation, and nothing says the antenna stood still. */
  readonly namedAfterLog?: true;
  /** Number of the station that sent the corrections, where a log has one: a change begins another occupation. */
  readonly stationId?: string;
  /** Geoid separation with which the receiver made its altitude, metres; only of a log. */
  readonly separationM?: number;
  readonly code: string;
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not stated. */
  readonly epochMs: number | null;
  readonly geodetic: GeodeticPoint;
  /** As read, where the input is geocentric; null: derive it from `geodetic`. */
  readonly geocentric: GeocentricPoint | null;
  /** Null: the session's. */
  readonly referencePoint: ReferencePoint | null;
  readonly solution: Solution | null;
  readonly correctionAgeS: number | null;
  readonly satellitesUsed: number | null;
  readonly pdop: number | null;
  readonly hdop: number | null;
  readonly vdop: number | null;
  readonly sigmaEastM: number | null;
  readonly sigmaNorthM: number | null;
  readonly sigmaUpM: number | null;
  /** Correlation coefficient between east and north, −1 to 1. */
  readonly correlationEn: number | null;
  readonly baseId: string | null;
  readonly poleLengthM: number | null;
  readonly tiltDeg: number | null;
  readonly tiltAzimuthDeg: number | null;
  /** How many epochs the row is the mean of; 1 for an epoch. */
  readonly epochCount: number;
  readonly note: string;
  /** Cells of columns we do not know, in the input's order. */
  readonly passThrough: readonly string[];
  readonly place: RowPlace;
}
