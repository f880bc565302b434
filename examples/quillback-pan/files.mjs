import { GEOID_NODES, gridOf, inventedGeoidM } from './earth.mjs';
import { STATED } from './error-model.mjs';

const m = (value) => value.toFixed(4);
const deg = (value) => value.toFixed(9);
const cell = (value) => (value === null ? '' : String(value));
const utc = (ms) => new Date(ms).toISOString().replace('.000Z', 'Z');
const table = (header, rows) => `${[header, ...rows].map((row) => row.join(',')).join('\n')}\n`;

const FIX_HEADER = [
  'point_id',
  'code',
  'epoch_utc',
  'latitude_deg',
  'longitude_deg',
  'ellipsoidal_height_m',
  'solution',
  'correction_age_s',
  'satellites_used',
  'pdop',
  'sigma_east_m',
  'sigma_north_m',
  'sigma_up_m',
  'base_id',
  'pole_length_m',
  'tilt_deg',
  'tilt_azimuth_deg',
];

/** fixes.csv: one row an epoch, in order of time. */
export function fixesCsv(fixes) {
  return table(
    FIX_HEADER,
    fixes.map((fix) => [
      fix.pointId,
      fix.code,
      utc(fix.epochMs),
      deg(fix.latitudeDeg),
      deg(fix.longitudeDeg),
      m(fix.ellipsoidalHeightM),
      fix.solution,
      fix.correctionAgeS.toFixed(1),
      fix.satellitesUsed,
      fix.pdop.toFixed(2),
      m(fix.sigmaEastM),
      m(fix.sigmaNorthM),
      m(fix.sigmaUpM),
      fix.baseId,
      fix.poleLengthM.toFixed(3),
      cell(fix.tiltDeg),
      cell(fix.tiltAzimuthDeg),
    ]),
  );
}

/** geoid.csv: the invented geoid at the nodes of a regular grid. */
export function geoidCsv() {
  const rows = [];
  for (let row = 0; row < GEOID_NODES.rows; row += 1) {
    for (let column = 0; column < GEOID_NODES.columns; column += 1) {
      const latitudeDeg = GEOID_NODES.southDeg + row * GEOID_NODES.stepDeg;
      const longitudeDeg = GEOID_NODES.westDeg + column * GEOID_NODES.stepDeg;
      rows.push([latitudeDeg.toFixed(2), longitudeDeg.toFixed(2), m(inventedGeoidM(latitudeDeg, longitudeDeg))]);
    }
  }
  return table(['latitude_deg', 'longitude_deg', 'geoid_height_m'], rows);
}

/** truth.csv: what the reduction should find. */
export function truthCsv(points) {
  return table(
    [
      'point_id',
      'westing_m',
      'southing_m',
      'orthometric_height_m',
      'latitude_deg',
      'longitude_deg',
      'ellipsoidal_height_m',
      'geoid_height_m',
    ],
    points.map(({ settings, place, geoidHeightM, orthometricHeightM }) => {
      const grid = gridOf(place);
      return [
        settings.id,
        m(grid.westingM),
        m(grid.southingM),
        m(orthometricHeightM),
        deg(place.latitudeDeg),
        deg(place.longitudeDeg),
        m(place.ellipsoidalHeightM),
        m(geoidHeightM),
      ];
    }),
  );
}

/** control.csv: published values of the control points, each with its own small error. */
export function controlCsv(control) {
  return table(
    [
      'point_id',
      'westing_m',
      'southing_m',
      'orthometric_height_m',
      'sigma_horizontal_m',
      'sigma_vertical_m',
      'role',
      'source',
    ],
    control.map(({ id, westingM, southingM, orthometricHeightM }) => [
      id,
      m(westingM),
      m(southingM),
      m(orthometricHeightM),
      STATED.controlHorizontalM,
      STATED.controlVerticalM,
      'check',
      'invented control list',
    ]),
  );
}

/** planted.csv: what went wrong, and the reason that must show it. */
export function plantedCsv(planted) {
  return table(
    ['point_id', 'occupation', 'what', 'shown_as'],
    planted.map(({ pointId, occupation, what, shown }) => [pointId, occupation, `"${what}"`, shown]),
  );
}

/** session.toml */
export function sessionToml(plan, bases) {
  return `# The invented day at Quillback Pan. People, places and numbers are made up.
version = 1
title = "Quillback Pan water scheme, pipe route and water points (invented)"

[system]
grid = "EPSG:2049"                # south-orientated Gauss conform, central meridian 21 degrees east
epoch_year = 2026.17

[height]
geoid = "geoid.csv"               # invented; fit for nothing but this day
sigma_m = ${STATED.geoidM}

[rover]
reference_point = "apc"
phase_centre_offset_m = ${STATED.phaseCentreOffsetM}
pole_length_m = ${plan.poleLengthM.toFixed(3)}             # counts where a row gives none
pole_sigma_m = ${STATED.poleM}
plumb_sigma_deg = ${STATED.plumbDeg}
tilt_sigma_deg = ${STATED.tiltDeg}
tilt_azimuth_sigma_deg = ${STATED.tiltAzimuthDeg.toFixed(1)}
tilt_azimuth = "top-from-tip"
${bases.map((base) => baseToml(base, plan)).join('')}
[acceptance]
solution = ["fixed"]
max_pdop = 4
max_correction_age_s = 10
min_satellites = 6
max_tilt_deg = 30
max_baseline_m = 60000
min_epochs = 10
min_duration_s = 10
max_sigma_horizontal_m = 0.05
max_sigma_vertical_m = 0.08

[precision]
conditions = "normal"

[tolerance]                       # 95 %
horizontal_m = 0.05
vertical_m = 0.10
`;
}

function baseToml({ settings, broadcast, known }, plan) {
  const { id, from, to, antenna } = settings;
  const grid = gridOf(known);
  const place =
    id === 'B1'
      ? `westing_m = ${m(grid.westingM)}, southing_m = ${m(grid.southingM)}`
      : `latitude_deg = ${deg(known.latitudeDeg)}, longitude_deg = ${deg(known.longitudeDeg)}`;
  const slant =
    antenna.kind === 'slant' ? `antenna_radius_m = ${antenna.radiusM}\nantenna_offset_m = ${antenna.offsetM}\n` : '';
  return `
[[base]]
id = "${id}"
from_utc = "${plan.date}T${from}Z"
to_utc = "${plan.date}T${to}Z"
broadcast = { latitude_deg = ${deg(broadcast.latitudeDeg)}, longitude_deg = ${deg(broadcast.longitudeDeg)}, ellipsoidal_height_m = ${m(broadcast.ellipsoidalHeightM)}, at = "arp" }
known = { ${place}, ellipsoidal_height_m = ${m(known.ellipsoidalHeightM)}, at = "mark" }
antenna_height_m = ${antenna.heightM.toFixed(3)}
antenna_height_kind = "${antenna.kind}"
${slant}sigma_horizontal_m = ${STATED.baseHorizontalM}
sigma_vertical_m = ${STATED.baseVerticalM}
`;
}
