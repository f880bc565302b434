import { PROBLEM_CODES } from '../../records/problem-codes.js';
import { EXIT_CODES } from './exit-codes.js';

export interface HelpTopic {
  readonly name: string;
  readonly summary: string;
  readonly text: () => string;
}

/** `pegbook help TOPIC`. Tables come from the code they describe. */
export const HELP_TOPICS: readonly HelpTopic[] = [
  { name: 'columns', summary: 'the columns of fixes, points and control', text: columnsText },
  { name: 'units', summary: 'units, signs, angles, times and the three heights', text: unitsText },
  { name: 'exit-codes', summary: 'what each exit code means', text: exitCodesText },
  { name: 'environment', summary: 'the environment variables that are looked at', text: environmentText },
  { name: 'problem-codes', summary: 'every problem code, its meaning and what mends it', text: problemCodesText },
];

function columnsText(): string {
  return `FIXES, the input of reduce-points: one row an epoch, or one an averaged point
  point_id                      required; text, kept as written
  latitude_deg, longitude_deg, ellipsoidal_height_m
                                the position; or x_m, y_m, z_m (geocentric)
  epoch_utc                     ISO 8601 with Z
  solution                      fixed, float, differential, autonomous (or 4, 5, 2, 1)
  reference_point               apc (phase centre), arp (reference point) or tip
  correction_age_s, satellites_used, pdop, hdop, vdop
  sigma_east_m, sigma_north_m, sigma_up_m, correlation_en
  base_id, pole_length_m, tilt_deg, tilt_azimuth_deg
  epoch_count                   when the row is already a mean
  code, note                    text

POINTS, the output of reduce-points: one row an occupation
  point_id, occupation, code, the grid pair, orthometric_height_m, latitude_deg,
  longitude_deg, ellipsoidal_height_m, geoid_height_m, point_scale_factor,
  elevation_factor, combined_factor, convergence_deg, base_id, baseline_m,
  baseline_azimuth_deg, baseline_height_difference_m, first_epoch_utc,
  last_epoch_utc, epochs_used, epochs_rejected, effective_epochs, sigma_east_m,
  sigma_north_m, sigma_up_m, correlation_en, ellipse_major_95_m,
  ellipse_minor_95_m, ellipse_azimuth_deg, circle_95_m, vertical_95_m, verdict,
  reasons, then the input's other columns

The grid pair is named by the axes of the system: easting_m,northing_m, or
westing_m,southing_m where the system is south-orientated.
A column called just height, h or z is refused until --columns says which height.`;
}

function unitsText(): string {
  return `Angles   decimal degrees, or degrees minutes seconds with one sign or one letter:
         25°43'55.302"S   -25:43:55.302   25 43 55.302 S
         North and east are positive. Azimuths run clockwise from true north.
         Convergence is positive where grid north is east of true north:
         grid bearing = azimuth - convergence.
Lengths  metres, unless the column's name says otherwise. A US survey foot is
         1200/3937 m, an international foot 0.3048 m; "ft" alone is refused.
Times    ISO 8601 in UTC, with Z.
Heights  h ellipsoidal, H orthometric, N geoid, and h = H + N.
Sigmas   one sigma per axis. Figures named 95 hold 95 % of errors under the model.
Empty    means unknown. It is never read as zero.`;
}

function exitCodesText(): string {
  return Object.values(EXIT_CODES)
    .map((entry) => `${String(entry.code).padStart(4)}  ${entry.meaning}`)
    .join('\n');
}

function environmentText(): string {
  return `NO_COLOR           when not empty: no colour in messages
FORCE_COLOR        when not empty and not 0: colour even where stderr is no terminal
TERM=dumb          no colour
SOURCE_DATE_EPOCH  seconds since 1970: the time written into run records and reports
Nothing in the environment changes a number.`;
}

function problemCodesText(): string {
  return Object.entries(PROBLEM_CODES)
    .map(([code, entry]) => `${code} (exit ${entry.exit})\n    ${entry.meaning}\n    fix: ${entry.fix}`)
    .join('\n');
}
