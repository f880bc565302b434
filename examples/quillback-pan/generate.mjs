// Makes the invented day. Run it to write the files beside it again:
//   node examples/quillback-pan/generate.mjs
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { DAY_PLAN } from './day-plan.mjs';
import { gridOf } from './earth.mjs';
import { STATED } from './error-model.mjs';
import { controlCsv, fixesCsv, geoidCsv, plantedCsv, sessionToml, truthCsv } from './files.mjs';
import { createRandom } from './random.mjs';
import { simulateBase, simulatePoint, simulateStand } from './simulate.mjs';

/** The committed day's seed is its date. */
export const DAY_SEED = 20260304;

/**
 * A day of fixes with its truth: base error, geoid error, pole errors and noise drawn from what the
 * session states, by the seed. `options.plan` replaces the story (see day-plan.mjs).
 */
export function generateDay(seed, options = {}) {
  const plan = options.plan ?? DAY_PLAN;
  const random = createRandom(seed);
  const geoidErrorM = STATED.geoidM * random.normal();
  const bases = plan.bases.map((settings) => simulateBase(settings, plan, random));
  const points = plan.points.map((settings) => simulatePoint(settings, plan, geoidErrorM));
  const control = points.filter(({ settings }) => settings.code === 'beacon').map((point) => published(point, random));
  const slow = new Map();
  const fixes = plan.stands.flatMap((stand) => {
    const point = points.find(({ settings }) => settings.id === stand.point);
    const base = bases.find(({ settings }) => settings.id === stand.base);
    return simulateStand(stand, point, base, plan, random, slow);
  });
  return { plan, bases, points, control, fixes, planted: plan.planted, session: sessionToml(plan, bases) };
}

/** A control point as its list has it: the truth and the list's own error. */
export function published({ settings, place, orthometricHeightM }, random) {
  const grid = gridOf(place);
  return {
    id: settings.id,
    westingM: grid.westingM + STATED.controlHorizontalM * random.normal(),
    southingM: grid.southingM + STATED.controlHorizontalM * random.normal(),
    orthometricHeightM: orthometricHeightM + STATED.controlVerticalM * random.normal(),
  };
}

/** The committed files by name. */
export function dayFiles(seed) {
  const day = generateDay(seed);
  return {
    'fixes.csv': fixesCsv(day.fixes),
    'session.toml': day.session,
    'geoid.csv': geoidCsv(),
    'truth.csv': truthCsv(day.points),
    'control.csv': controlCsv(day.control),
    'planted.csv': plantedCsv(day.planted),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [name, text] of Object.entries(dayFiles(DAY_SEED))) writeFileSync(new URL(name, import.meta.url), text);
}
