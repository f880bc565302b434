// Makes the invented month: thirty days of one base, a job file, and the truth. Run it to write the files beside it again:
//   node examples/quillback-pan-month/generate.mjs
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gridOf } from '../quillback-pan/earth.mjs';
import { STATED } from '../quillback-pan/error-model.mjs';
import { controlCsv, fixesCsv, truthCsv } from '../quillback-pan/files.mjs';
import { createRandom } from '../quillback-pan/random.mjs';
import { simulateBase, simulatePoint, simulateStand } from '../quillback-pan/simulate.mjs';
import { setUp } from '../quillback-pan-job/generate.mjs';
import { DAYS, ORIGIN, POLE_LENGTH_M } from '../quillback-pan-job/story.mjs';

/** The seed of the committed month is its first day. */
export const MONTH_SEED = 20260401;
export const DAY_COUNT = 30;
/** From this day on C-02 stands where it did not: 30 mm farther south. Its grid values stay as they were published. */
export const MOVED_FROM = 19;
const MOVED_M = [0, -0.03, 0];

const CONTROL = [
  { id: 'C-01', code: 'beacon', km: 0.9, azimuthDeg: 140, heightM: 1040.2 },
  { id: 'C-02', code: 'beacon', km: 6.1, azimuthDeg: 246, heightM: 1051.3 },
  { id: 'C-03', code: 'beacon', km: 9.7, azimuthDeg: 195, heightM: 1055.4 },
];
const STAND_S = 12;

const dayId = (index) => `2026-04-${String(index + 1).padStart(2, '0')}`;
const timeOf = (place) => `${String(6 + place).padStart(2, '0')}:${place % 2 === 0 ? '10' : '40'}:00`;

/** Two new points a day, along a line that leads away from the base. */
function workOf(index) {
  return [0, 1].map((place) => ({
    id: `QP-${String(101 + 2 * index + place)}`,
    code: 'pipe',
    km: 1 + 0.33 * (2 * index + place),
    azimuthDeg: 231 + 4 * ((2 * index + place) % 5),
    heightM: 1044 + 1.7 * index,
  }));
}

/** Thirty days of fixes with their truth. A mark has one error of its coordinate all month; each day sets up anew. */
export function generateMonth(seed) {
  const random = createRandom(seed);
  const plan = { origin: ORIGIN, poleLengthM: POLE_LENGTH_M };
  const geoidErrorM = STATED.geoidM * random.normal();
  const pointOf = (settings) => simulatePoint(settings, plan, geoidErrorM);
  const control = CONTROL.map(pointOf);
  const first = simulateBase(DAYS[0].base, plan, random);
  const days = Array.from({ length: DAY_COUNT }, (_, index) => {
    const antenna = { kind: 'vertical', heightM: Number((1.55 + 0.01 * (index % 7)).toFixed(3)) };
    const base = setUp({ ...simulateBase({ ...DAYS[0].base, antenna }, plan, random), known: first.known }, random);
    const work = workOf(index).map(pointOf);
    const slow = new Map();
    const fixes = [...control, ...work].flatMap((point, place) => {
      const { id } = point.settings;
      const stand = {
        point: id,
        time: timeOf(place),
        seconds: STAND_S,
        base: 'B1',
        ...(id === 'C-02' && index >= MOVED_FROM && { wrongFixM: MOVED_M }),
      };
      return simulateStand(stand, point, base, { ...plan, date: dayId(index) }, random, slow);
    });
    return { id: dayId(index), base, work, fixes };
  });
  const published = control.map(({ settings, place, orthometricHeightM }) => {
    const grid = gridOf(place);
    return {
      id: settings.id,
      westingM: grid.westingM + STATED.controlHorizontalM * random.normal(),
      southingM: grid.southingM + STATED.controlHorizontalM * random.normal(),
      orthometricHeightM: orthometricHeightM + STATED.controlVerticalM * random.normal(),
    };
  });
  return { days, control, published, known: first.known };
}

function monthToml(days, known) {
  const grid = gridOf(known);
  return `# Thirty invented days at Quillback Pan, one base mark. People, places and numbers are made up.
version = 1
title = "Quillback Pan pipe line, April (invented)"

[shared]
session = "../quillback-pan-job/common.toml"

[files]
control = "control.csv"
${days
  .map(
    ({ id, base: { settings, broadcast } }) => `
[[day]]
id = "${id}"
date = ${id}
fixes = ["days/${id}.csv"]

[[day.base]]
id = "B1"
broadcast = { latitude_deg = ${broadcast.latitudeDeg.toFixed(9)}, longitude_deg = ${broadcast.longitudeDeg.toFixed(9)}, ellipsoidal_height_m = ${broadcast.ellipsoidalHeightM.toFixed(4)}, at = "arp" }
known = { westing_m = ${grid.westingM.toFixed(4)}, southing_m = ${grid.southingM.toFixed(4)}, ellipsoidal_height_m = ${known.ellipsoidalHeightM.toFixed(4)}, at = "mark" }
antenna_height_m = ${settings.antenna.heightM.toFixed(3)}
sigma_horizontal_m = ${String(STATED.baseHorizontalM)}
sigma_vertical_m = ${String(STATED.baseVerticalM)}
`,
  )
  .join('')}`;
}

/** The committed files by name. */
export function monthFiles(seed) {
  const { days, control, published, known } = generateMonth(seed);
  return {
    'job.toml': monthToml(days, known),
    'control.csv': controlCsv(published),
    'truth.csv': truthCsv([...control, ...days.flatMap(({ work }) => work)]),
    ...Object.fromEntries(days.map(({ id, fixes }) => [`days/${id}.csv`, fixesCsv(fixes)])),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  mkdirSync(new URL('days', import.meta.url), { recursive: true });
  for (const [name, text] of Object.entries(monthFiles(MONTH_SEED)))
    writeFileSync(new URL(name, import.meta.url), text);
}
