// An invented archive: sessions of one base each, with a manifest that names them. Places, names and numbers are made up.
// usage: node make-sessions.mjs FOLDER [COUNT] [SEED]
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRandom } from '../quillback-pan/random.mjs';

const [folder, count = '300', seed = '1'] = process.argv.slice(2);
if (folder === undefined) throw new Error('usage: node make-sessions.mjs FOLDER [COUNT] [SEED]');

const { uniform, normal } = createRandom(Number(seed));
const POINTS = 6;
const EPOCHS = 8;
/** One session in so many has a point whose fixes are not fixed: its answer is no, and its run ends with 1. */
const ONE_IN = 25;
const METRES_A_DEGREE = 111_000;

const time = (day, second) => new Date(Date.UTC(2026, 0, 1 + day, 7, 0, second)).toISOString().replace('.000Z', 'Z');

function session(name, base) {
  return `version = 1
title = "${name} (invented)"

[system]
grid = "EPSG:2049"

[rover]
reference_point = "tip"

[[base]]
id = "B1"
broadcast = { latitude_deg = ${base.latitude}, longitude_deg = ${base.longitude}, ellipsoidal_height_m = ${base.height}, at = "arp" }
sigma_horizontal_m = 0.010
sigma_vertical_m = 0.020

[acceptance]
solution = ["fixed"]
max_correction_age_s = 10
min_epochs = 5
`;
}

function fixes(day, base) {
  const rows = ['point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s'];
  for (let point = 1; point <= POINTS; point += 1) {
    const latitude = Number(base.latitude) + (uniform() - 0.5) * 0.02;
    const longitude = Number(base.longitude) + (uniform() - 0.5) * 0.02;
    const height = Number(base.height) + (uniform() - 0.5) * 40;
    const solution = day % ONE_IN === ONE_IN - 1 && point === POINTS ? 'float' : 'fixed';
    for (let epoch = 0; epoch < EPOCHS; epoch += 1)
      rows.push(
        [
          `P${String(point).padStart(2, '0')}`,
          time(day, point * 120 + epoch),
          (latitude + (normal() * 0.006) / METRES_A_DEGREE).toFixed(9),
          (longitude + (normal() * 0.006) / METRES_A_DEGREE).toFixed(9),
          (height + normal() * 0.01).toFixed(4),
          solution,
          (1 + uniform()).toFixed(1),
        ].join(','),
      );
  }
  return `${rows.join('\n')}\n`;
}

const manifest = ['fixes,session,output,record'];
for (let day = 0; day < Number(count); day += 1) {
  const name = `session-${String(day + 1).padStart(3, '0')}`;
  const base = {
    latitude: (-31.6 + uniform() * 0.2).toFixed(9),
    longitude: (21.3 + uniform() * 0.2).toFixed(9),
    height: (1000 + uniform() * 100).toFixed(4),
  };
  mkdirSync(join(folder, name), { recursive: true });
  writeFileSync(join(folder, name, 'session.toml'), session(name, base));
  writeFileSync(join(folder, name, 'fixes.csv'), fixes(day, base));
  manifest.push(['fixes.csv', 'session.toml', 'points.csv', 'run.json'].map((file) => `${name}/${file}`).join(','));
}
writeFileSync(join(folder, 'sessions.csv'), `${manifest.join('\n')}\n`);
