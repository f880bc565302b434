import { gridOf, inventedGeoidM } from '../quillback-pan/earth.mjs';
import { STATED } from '../quillback-pan/error-model.mjs';

const m = (value) => value.toFixed(4);
const deg = (value) => value.toFixed(9);
const utc = (ms) => new Date(ms).toISOString().replace('.000Z', 'Z');
const lines = (rows) => `${rows.join('\n')}\n`;

/** The second logger: its own headers, semicolons and decimal commas, local time, one figure for the error in plan, words for the solution. */
export function foreignCsv(fixes) {
  const local = (ms) => new Date(ms + 7_200_000).toISOString().slice(0, 19).replace('T', ' ');
  return lines([
    'Name;Date and time;Lat;Lon;Ell. height;Status;Age;Sats;PDOP;RMS 2D;RMS V;Pole',
    ...fixes.map((fix) =>
      [
        fix.pointId,
        local(fix.epochMs),
        deg(fix.latitudeDeg),
        deg(fix.longitudeDeg),
        m(fix.ellipsoidalHeightM),
        fix.solution === 'fixed' ? 'Fix' : 'Float',
        fix.correctionAgeS.toFixed(1),
        fix.satellitesUsed,
        fix.pdop.toFixed(2),
        m(Math.sqrt(fix.sigmaEastM ** 2 + fix.sigmaNorthM ** 2)),
        m(fix.sigmaUpM),
        fix.poleLengthM.toFixed(3),
      ]
        .join(';')
        .replaceAll('.', ','),
    ),
  ]);
}

const angle = (value, width, positive, negative) => {
  const degrees = Math.floor(Math.abs(value));
  const minutes = (60 * (Math.abs(value) - degrees)).toFixed(8).padStart(11, '0');
  return `${String(degrees).padStart(width, '0')}${minutes},${value < 0 ? negative : positive}`;
};

const sentence = (body) => {
  let sum = 0;
  for (let i = 0; i < body.length; i += 1) sum ^= body.charCodeAt(i);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
};

/** The third logger: NMEA 0183 sentences, positions, dilutions and sigmas each second, the date each stand. */
export function sentences(fixes) {
  let before = null;
  return lines(
    fixes.flatMap((fix) => {
      const at = new Date(fix.epochMs);
      const time = `${at.toISOString().slice(11, 19).replaceAll(':', '')}.00`;
      const isNew = before !== fix.pointId;
      before = fix.pointId;
      const separation = inventedGeoidM(fix.latitudeDeg, fix.longitudeDeg).toFixed(3);
      const altitude = (Number(m(fix.ellipsoidalHeightM)) - Number(separation)).toFixed(4);
      const quality = fix.solution === 'fixed' ? 4 : 5;
      const [day, month] = [at.getUTCDate(), at.getUTCMonth() + 1].map((part) => String(part).padStart(2, '0'));
      return [
        ...(isNew ? [sentence(`GNZDA,${time},${day},${month},${String(at.getUTCFullYear())},00,00`)] : []),
        sentence(
          `GNGGA,${time},${angle(fix.latitudeDeg, 2, 'N', 'S')},${angle(fix.longitudeDeg, 3, 'E', 'W')},${String(quality)},${String(fix.satellitesUsed)},${(0.6 * fix.pdop).toFixed(2)},${altitude},M,${separation},M,${fix.correctionAgeS.toFixed(1)},`,
        ),
        sentence(
          `GNGSA,A,3,,,,,,,,,,,,,${fix.pdop.toFixed(2)},${(0.6 * fix.pdop).toFixed(2)},${(0.8 * fix.pdop).toFixed(2)}`,
        ),
        sentence(
          `GNGST,${time},,,,,${fix.sigmaNorthM.toFixed(4)},${fix.sigmaEastM.toFixed(4)},${fix.sigmaUpM.toFixed(4)}`,
        ),
      ];
    }),
  );
}

/** occupations.csv of the third day: the log has no names. */
export function occupationsCsv(stands, date) {
  const ms = (time) => Date.parse(`${date}T${time}Z`);
  return lines([
    'point_id,from_utc,to_utc',
    ...stands.map((stand) =>
      [stand.point, utc(ms(stand.time)), utc(ms(stand.time) + 1000 * (stand.seconds - 1))].join(','),
    ),
  ]);
}

function baseToml({ settings, broadcast }, knownText) {
  const place = `latitude_deg = ${deg(broadcast.latitudeDeg)}, longitude_deg = ${deg(broadcast.longitudeDeg)}, ellipsoidal_height_m = ${m(broadcast.ellipsoidalHeightM)}`;
  return `
[[day.base]]
id = "${settings.id}"
broadcast = { ${place}, at = "arp" }
known = ${knownText}
antenna_height_m = ${settings.antenna.heightM.toFixed(3)}
instrument = "receiver R2, antenna A2 (invented)"
`;
}

/** job.toml */
export function jobToml(days, known) {
  const grid = gridOf(known);
  const [first, second, third] = days;
  const typed = `{ westing_m = ${m(grid.westingM)}, southing_m = ${m(grid.southingM)}, ellipsoidal_height_m = ${m(known.ellipsoidalHeightM)}, at = "mark" }`;
  const sigmas = `sigma_horizontal_m = ${STATED.baseHorizontalM}\nsigma_vertical_m = ${STATED.baseVerticalM}\n`;
  return `# Three invented days at Quillback Pan. People, places and numbers are made up.
version = 1
title = "Quillback Pan water scheme, three days (invented)"

[shared]
session = "common.toml"

[shared.fieldwork]                # who measured and with what, for pages
observer = "B. Observer (invented)"
instrument = "receiver R1, antenna A1 (invented)"

[[day]]
id = "${first.id}"
date = ${first.id}
fixes = ["monday.csv"]
${baseToml(first.base, typed)}${sigmas}
[[day]]
id = "${second.id}"
date = ${second.id}
fixes = ["tuesday.csv"]

[day.table]
delimiter = ";"
decimal_mark = ","

[day.columns]                     # the second logger has its own names
point_id = "Name"
epoch_utc = { header = "Date and time", form = "YYYY-MM-DD HH:mm:ss", zone = "+02:00" }
latitude_deg = "Lat"
longitude_deg = "Lon"
ellipsoidal_height_m = "Ell. height"
solution = "Status"
correction_age_s = "Age"
satellites_used = "Sats"
pdop = "PDOP"
sigma_horizontal_m = { header = "RMS 2D", means = "drms" }
sigma_up_m = "RMS V"
pole_length_m = "Pole"
${baseToml(second.base, typed)}${sigmas}
[[day]]
id = "${third.id}"
date = ${third.id}
fixes = ["wednesday.nmea"]
occupations = "wednesday-occupations.csv"
${baseToml(third.base, `{ point = "B2", day = "${first.id}" }      # the peg, as the first day measured it`)}
[[exclude]]
point = "QP-32"
day = "${second.id}"
occupation = "1"
reason = "the fix jumped as the receiver was set up again; measured once more at 11:40 local time"

[[rename]]
from = "QP-13"
to = "QP-31"
day = "${second.id}"
reason = "two digits exchanged when the name was keyed in; seen in the field book"

[files]
control = "control.csv"

[people]
client = "the scheme's own water users (invented)"
surveyor = "A. Surveyor (invented)"
`;
}

/** common.toml: what all days share. */
export function commonToml() {
  return `# What the three invented days share.
version = 1

[system]
grid = "EPSG:2049"                # south-orientated Gauss conform, central meridian 21 degrees east
epoch_year = 2026.18

[height]
geoid = "../quillback-pan/geoid.csv"  # invented; fit for nothing but these days
sigma_m = ${STATED.geoidM}

[rover]
reference_point = "apc"
phase_centre_offset_m = ${STATED.phaseCentreOffsetM}
pole_length_m = 2.000
pole_sigma_m = ${STATED.poleM}
plumb_sigma_deg = ${STATED.plumbDeg}

[acceptance]
solution = ["fixed"]
max_pdop = 4
max_correction_age_s = 10
min_satellites = 6
max_baseline_m = 60000
min_epochs = 10
min_duration_s = 10

[precision]
conditions = "normal"

[tolerance]                       # 95 %
horizontal_m = 0.06
vertical_m = 0.12
`;
}
