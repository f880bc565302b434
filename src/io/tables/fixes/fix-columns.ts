import type { Fix } from '../../../records/points/fix.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import { REFERENCE_POINT_WORDS, SOLUTION_WORDS } from './fix-words.js';

/** Heights that a fix can have, metres. */
export const HEIGHT_RANGE = [-12_000, 100_000] as const;
const NOT_NEGATIVE = [0, 1e6] as const;
const GEOCENTRIC_RANGE = [-1e8, 1e8] as const;
const GEOCENTRIC = 'geocentric position';
const FROM_CENTRE = '6 300 to 6 500 km from the centre';
const DILUTION = 'dilution of precision';
const SIGMA = 'reported one sigma';

/** The columns of every table of fixes. Those without `put`, name, position and tilt, are read together: see `createFixRow`. */
export const COMMON_FIX_COLUMNS: readonly Column<Fix>[] = [
  column({
    name: 'point_id',
    kind: 'id',
    isNeeded: true,
    describe: 'identifier of the point',
  }),
  column({
    name: 'code',
    kind: 'text',
    put: (fix, code) => (fix.code = code),
    describe: 'feature code',
  }),
  column({
    name: 'epoch_utc',
    kind: 'time',
    put: (fix, ms) => (fix.epochMs = ms),
    describe: 'time of the epoch',
  }),
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    describe: 'latitude, north positive',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    describe: 'longitude, east positive; 180 to 360 is read as −180 to 0',
  }),
  column({
    name: 'ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    isFilled: true,
    range: HEIGHT_RANGE,
    describe: 'height above the ellipsoid',
  }),
  column({
    name: 'x_m',
    kind: 'number',
    unit: 'm',
    isFilled: true,
    range: GEOCENTRIC_RANGE,
    describe: GEOCENTRIC,
    holds: FROM_CENTRE,
  }),
  column({
    name: 'y_m',
    kind: 'number',
    unit: 'm',
    isFilled: true,
    range: GEOCENTRIC_RANGE,
    describe: GEOCENTRIC,
    holds: FROM_CENTRE,
  }),
  column({
    name: 'z_m',
    kind: 'number',
    unit: 'm',
    isFilled: true,
    range: GEOCENTRIC_RANGE,
    describe: GEOCENTRIC,
    holds: FROM_CENTRE,
  }),
  column({
    name: 'reference_point',
    kind: 'word',
    words: REFERENCE_POINT_WORDS,
    isTranslated: true,
    put: (fix, point) => (fix.referencePoint = point),
    describe: 'what the position belongs to',
    holds: '`apc` antenna phase centre, `arp` antenna reference point, `tip` pole tip',
  }),
  column({
    name: 'solution',
    kind: 'word',
    words: SOLUTION_WORDS,
    isTranslated: true,
    put: (fix, solution) => (fix.solution = solution),
    describe: 'quality',
    holds:
      '`fixed` (also `fix`, `integer`, `rtk fixed`), `float` (`rtk float`), `differential` (`dgps`, `dgnss`), `autonomous` (`single`, `standalone`), or 4, 5, 2, 1, capital or small',
  }),
  column({
    name: 'correction_age_s',
    kind: 'number',
    unit: 's',
    range: [0, 1e9],
    put: (fix, age) => (fix.correctionAgeS = age),
    describe: 'age of the corrections',
  }),
  column({
    name: 'satellites_used',
    kind: 'whole',
    range: [0, 999],
    put: (fix, count) => (fix.satellitesUsed = count),
    describe: 'count',
  }),
  column({
    name: 'pdop',
    kind: 'number',
    range: NOT_NEGATIVE,
    put: (fix, pdop) => (fix.pdop = pdop),
    describe: DILUTION,
  }),
  column({
    name: 'hdop',
    kind: 'number',
    range: NOT_NEGATIVE,
    put: (fix, hdop) => (fix.hdop = hdop),
    describe: DILUTION,
  }),
  column({
    name: 'vdop',
    kind: 'number',
    range: NOT_NEGATIVE,
    put: (fix, vdop) => (fix.vdop = vdop),
    describe: DILUTION,
  }),
  column({
    name: 'sigma_east_m',
    kind: 'number',
    unit: 'm',
    range: NOT_NEGATIVE,
    put: (fix, sigma) => (fix.sigmaEastM = sigma),
    describe: SIGMA,
  }),
  column({
    name: 'sigma_north_m',
    kind: 'number',
    unit: 'm',
    range: NOT_NEGATIVE,
    put: (fix, sigma) => (fix.sigmaNorthM = sigma),
    describe: SIGMA,
  }),
  column({
    name: 'sigma_up_m',
    kind: 'number',
    unit: 'm',
    range: NOT_NEGATIVE,
    put: (fix, sigma) => (fix.sigmaUpM = sigma),
    describe: SIGMA,
  }),
  column({
    name: 'sigma_horizontal_m',
    kind: 'number',
    unit: 'm',
    range: NOT_NEGATIVE,
    isMappedOnly: true,
    put: (fix, sigma) => {
      fix.sigmaEastM = sigma;
      fix.sigmaNorthM = sigma;
    },
    describe: 'one figure for both horizontal axes; read only where `[columns]` maps it and says what it means',
  }),
  column({
    name: 'correlation_en',
    kind: 'number',
    range: [-1, 1],
    put: (fix, correlation) => (fix.correlationEn = correlation),
    describe: 'correlation of east and north',
  }),
  column({
    name: 'base_id',
    kind: 'id',
    put: (fix, id) => (fix.baseId = id),
    describe: 'base of the corrections',
  }),
  column({
    name: 'pole_length_m',
    kind: 'number',
    unit: 'm',
    range: [0, 100],
    put: (fix, length) => (fix.poleLengthM = length),
    describe: 'tip to antenna reference point',
  }),
  column({
    name: 'tilt_deg',
    kind: 'number',
    unit: 'deg',
    range: [0, 90],
    describe: 'lean of the pole from the vertical',
  }),
  column({
    name: 'tilt_azimuth_deg',
    kind: 'number',
    unit: 'deg',
    range: [-360, 360],
    describe: 'which way it leans, clockwise from true north; needed with a tilt',
  }),
  column({
    name: 'epoch_count',
    kind: 'whole',
    range: [1, 1e9],
    put: (fix, count) => (fix.epochCount = count),
    describe: 'epochs the row is the mean of; 1 if empty',
  }),
  column({
    name: 'note',
    kind: 'text',
    isCarried: true,
    put: (fix, note) => (fix.note = note),
    describe: 'anything',
  }),
];
