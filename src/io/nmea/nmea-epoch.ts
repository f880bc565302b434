import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { Solution } from '../../records/session.js';
import { isFault, nmeaAngle } from './nmea-sentence.js';
import type { NmeaFault, NmeaSentence } from './nmea-sentence.js';
import { nmeaStation } from './nmea-station.js';

/** What one GGA sentence says. */
export interface NmeaPosition {
  readonly geodetic: GeodeticPoint;
  readonly solution: Solution;
  readonly satellitesUsed: number | null;
  readonly hdop: number | null;
  readonly correctionAgeS: number | null;
  /** Geoid separation that the receiver applied, metres, positive where the geoid is above the ellipsoid. */
  readonly separationM: number;
  /** Number of the base the corrections came from; null: none is named. */
  readonly stationId: string | null;
  /** Fewest decimals of a minute of the two angles. */
  readonly minuteDecimals: number;
}

/** Sigmas of a GST sentence, metres. */
export interface NmeaSigmas {
  readonly sigmaEastM: number | null;
  readonly sigmaNorthM: number | null;
  readonly sigmaUpM: number | null;
}

/** Fewest decimals of a minute that can carry centimetres: the sixth is about 2 mm in latitude. */
export const LEAST_MINUTE_DECIMALS = 6;

/** Quality 3 is the encrypted service's own position, autonomous like 1. From memory of NMEA 0183. */
const SOLUTIONS: ReadonlyMap<string, Solution> = new Map<string, Solution>([
  ['1', 'autonomous'],
  ['2', 'differential'],
  ['3', 'autonomous'],
  ['4', 'fixed'],
  ['5', 'float'],
]);

/**
 * The position of a GGA sentence, with `h = altitude + separation`; `none` where the receiver had no satellite position
 * (quality 0, or 6 and above: estimated, typed in, simulated).
 * Problems: nmea-missing-field, nmea-precision, nmea-syntax, value-out-of-range.
 */
export function nmeaPosition(sentence: NmeaSentence): NmeaPosition | NmeaFault | 'none' {
  const quality = sentence.field(6);
  if (quality === '') return missingField('the quality');
  const solution = SOLUTIONS.get(quality);
  if (solution === undefined) return 'none';
  const latitude = nmeaAngle(sentence.field(2), sentence.field(3), 'latitude');
  if (isFault(latitude)) return latitude;
  const longitude = nmeaAngle(sentence.field(4), sentence.field(5), 'longitude');
  if (isFault(longitude)) return longitude;
  const minuteDecimals = Math.min(latitude.minuteDecimals, longitude.minuteDecimals);
  if (minuteDecimals < LEAST_MINUTE_DECIMALS) {
    return {
      code: 'nmea-precision',
      message: `the position has ${String(minuteDecimals)} decimals of a minute and needs ${String(LEAST_MINUTE_DECIMALS)}`,
      hint: 'log with high-precision GGA',
    };
  }
  const altitudeM = lengthField(sentence, 9, 'the altitude');
  if (typeof altitudeM !== 'number') return altitudeM;
  const separationM = lengthField(sentence, 11, 'the geoid separation');
  if (typeof separationM !== 'number') return separationM;
  const ellipsoidalHeightM = altitudeM + separationM;
  if (!(ellipsoidalHeightM >= -12_000 && ellipsoidalHeightM <= 100_000)) {
    return {
      code: 'value-out-of-range',
      message: `altitude and separation make ${String(ellipsoidalHeightM)}, outside -12000..100000 metres`,
    };
  }
  return {
    geodetic: { latitudeDeg: latitude.degrees, longitudeDeg: longitude.degrees, ellipsoidalHeightM },
    solution,
    satellitesUsed: notNegative(sentence.field(7)),
    hdop: notNegative(sentence.field(8)),
    correctionAgeS: notNegative(sentence.field(13)),
    separationM,
    stationId: nmeaStation(sentence.field(14), solution),
    minuteDecimals,
  };
}

/** The sigmas of a GST sentence: fields 6 to 8 are of latitude, longitude and altitude. */
export function nmeaSigmas(sentence: NmeaSentence): NmeaSigmas {
  return {
    sigmaNorthM: notNegative(sentence.field(6)),
    sigmaEastM: notNegative(sentence.field(7)),
    sigmaUpM: notNegative(sentence.field(8)),
  };
}

/** A number from 0 to a million; null for an empty or bad field, which in these fields means unknown. */
export function notNegative(text: string): number | null {
  const value = parseDecimal(text);
  return value === null || value < 0 || value > 1e6 ? null : value;
}

function lengthField(sentence: NmeaSentence, index: number, what: string): number | NmeaFault {
  const value = parseDecimal(sentence.field(index));
  if (value === null) return missingField(what);
  const unit = sentence.field(index + 1);
  return unit === 'M' ? value : { code: 'nmea-syntax', message: `${what} is in "${unit}" and must be in M, metres` };
}

function missingField(what: string): NmeaFault {
  return {
    code: 'nmea-missing-field',
    message: `${what} is missing`,
    hint: 'log GGA with quality, altitude and geoid separation',
  };
}
