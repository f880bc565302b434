// Makes the day of one student, by a seed, with the faults that are asked for:
//   node examples/classroom/generate.mjs --seed 7 --plant wrong-base,wrong-pole -o student-7 --answers answers-7
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { controlCsv, fixesCsv, geoidCsv, plantedCsv, sessionToml, truthCsv } from '../quillback-pan/files.mjs';
import { generateDay } from '../quillback-pan/generate.mjs';
import { createRandom } from '../quillback-pan/random.mjs';
import { PLANTS } from './plants.mjs';
import { dayOfStudent } from './story.mjs';

/** Draws one kind by the seed, and does not say which. */
const ANY = 'any';
/** Streams apart from that of the errors: what is planted leaves the rest of the day as it was. */
const STREAM = { layout: 0x10000000, kind: 0x20000000, plants: 0x30000000 };

/** Names as typed to kinds; throws where one is unknown or they cannot be told apart. */
function kindsOf(names, seed) {
  const known = Object.keys(PLANTS);
  const drawn = createRandom(seed ^ STREAM.kind);
  const kinds = names.map((name) => (name === ANY ? known[Math.floor(drawn.uniform() * known.length)] : name));
  const wrong = kinds.find((name) => !known.includes(name));
  if (wrong !== undefined) throw new Error(`--plant: ${wrong} is not known; there are ${[...known, ANY].join(', ')}`);
  if (new Set(kinds).size < kinds.length) throw new Error('--plant: each kind once');
  const ofDay = kinds.filter((name) => PLANTS[name].isOfWholeDay);
  if (ofDay.length > 1)
    throw new Error(`--plant: ${ofDay.join(' and ')} would hide each other: one fault of the whole day at a time`);
  return kinds;
}

/** The files of one student, by name, and those of the answers. Same seed and plants, same bytes. */
export function classroomFiles(seed, names = []) {
  const kinds = kindsOf(names, seed).map((name) => PLANTS[name]);
  const random = createRandom(seed ^ STREAM.plants);
  const plant = (when, start) =>
    kinds.filter((kind) => kind.when === when).reduce((state, kind) => kind.apply(state, random), start);
  const day = plant(
    'day',
    generateDay(seed, { plan: plant('plan', dayOfStudent(createRandom(seed ^ STREAM.layout))) }),
  );
  return {
    student: {
      'fixes.csv': fixesCsv(day.fixes),
      'session.toml': sessionToml(day.plan, day.bases),
      'geoid.csv': geoidCsv(),
      'control.csv': controlCsv(day.control),
    },
    answers: { 'truth.csv': truthCsv(day.points), 'planted.csv': plantedCsv(day.planted) },
  };
}

function write(folder, files) {
  const taken = Object.keys(files).find((name) => existsSync(join(folder, name)));
  if (taken !== undefined) throw new Error(`${join(folder, taken)} is there already; nothing was written`);
  return () => {
    mkdirSync(folder, { recursive: true });
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  };
}

function run(words) {
  const { values } = parseArgs({
    args: words,
    options: {
      seed: { type: 'string' },
      plant: { type: 'string' },
      output: { type: 'string', short: 'o' },
      answers: { type: 'string' },
    },
  });
  if (!/^\d{1,9}$/.test(values.seed ?? '') || values.output === undefined)
    throw new Error(
      'usage: generate.mjs --seed N [--plant KIND,...] -o FOLDER [--answers FOLDER]; N is a whole number',
    );
  const { student, answers } = classroomFiles(Number(values.seed), values.plant?.split(',') ?? []);
  const writes = [write(values.output, student)];
  if (values.answers !== undefined) writes.push(write(values.answers, answers));
  for (const now of writes) now();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    run(process.argv.slice(2));
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 2;
  }
}
