// Makes the invented job of three days. Run it to write the files beside it again:
//   node examples/quillback-pan-job/generate.mjs
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { axesAt, geocentricOf, geodeticOf, moved } from '../quillback-pan/earth.mjs';
import { STATED } from '../quillback-pan/error-model.mjs';
import { controlCsv, fixesCsv, truthCsv } from '../quillback-pan/files.mjs';
import { published } from '../quillback-pan/generate.mjs';
import { createRandom } from '../quillback-pan/random.mjs';
import { roundedPlace, simulateBase, simulatePoint, simulateStand } from '../quillback-pan/simulate.mjs';
import { commonToml, foreignCsv, jobToml, occupationsCsv, sentences } from './files.mjs';
import { DAYS, ORIGIN, POINTS, POLE_LENGTH_M } from './story.mjs';

/** The seed of the committed job is its second day. */
export const JOB_SEED = 20260310;

/** Setting a base up anew: how far its antenna is from where its height over the mark says, one sigma, metres. */
const CENTRING_M = 0.0015;
const ANTENNA_HEIGHT_M = 0.002;

/**
 * Three days of fixes with their truth, drawn by the seed. A mark has one coordinate and one error of it on all days; each set-up
 * is centred anew; slow errors of a day are not those of another.
 */
export function generateJob(seed) {
  const random = createRandom(seed);
  const plan = { origin: ORIGIN, poleLengthM: POLE_LENGTH_M };
  const geoidErrorM = STATED.geoidM * random.normal();
  const points = POINTS.map((settings) => simulatePoint(settings, plan, geoidErrorM));
  const control = points.filter(({ settings }) => settings.code === 'beacon').map((point) => published(point, random));
  const first = simulateBase(DAYS[0].base, plan, random);
  const days = DAYS.map((day) => {
    const base = setUp(simulateBase(day.base, plan, random), random);
    const slow = new Map();
    const fixes = day.stands.flatMap((stand) => {
      const point = points.find(({ settings }) => settings.id === stand.point);
      const made = simulateStand(stand, point, base, { ...plan, date: day.id }, random, slow);
      return made.map((fix) => ({ ...fix, pointId: stand.writtenPoint ?? fix.pointId }));
    });
    return { id: day.id, stands: day.stands, base, fixes };
  });
  return { days, points, control, known: first.known };
}

/** The antenna as it truly stands: a little beside the mark, and not quite as high as it was measured. */
export function setUp(base, random) {
  const axes = axesAt(base.mark.latitudeDeg, base.mark.longitudeDeg);
  const off = [CENTRING_M * random.normal(), CENTRING_M * random.normal(), ANTENNA_HEIGHT_M * random.normal()];
  const arp = moved(base.arp, axes, ...off);
  const broadcast = roundedPlace(geodeticOf(moved(arp, axes, ...base.settings.broadcastOffM)));
  return { ...base, arp, broadcast, broadcastArp: geocentricOf(broadcast) };
}

/** The committed files by name. */
export function jobFiles(seed) {
  const { days, points, control, known } = generateJob(seed);
  const [monday, tuesday, wednesday] = days;
  return {
    'job.toml': jobToml(days, known),
    'common.toml': commonToml(),
    'monday.csv': fixesCsv(monday.fixes),
    'tuesday.csv': foreignCsv(tuesday.fixes),
    'wednesday.nmea': sentences(wednesday.fixes),
    'wednesday-occupations.csv': occupationsCsv(wednesday.stands, wednesday.id),
    'control.csv': controlCsv(control),
    'truth.csv': truthCsv(points),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [name, text] of Object.entries(jobFiles(JOB_SEED))) writeFileSync(new URL(name, import.meta.url), text);
}
