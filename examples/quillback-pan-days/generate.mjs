// Writes the eight invented days of this folder anew: node examples/quillback-pan-days/generate.mjs
// Truth, noise and the mark that moves are in README.md. The same bytes each time.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createRandom } from '../quillback-pan/random.mjs';

const FOLDER = dirname(fileURLToPath(import.meta.url));
const DAYS = ['11', '12', '13', '14', '15', '16', '17', '18'].map((day) => `2026-05-${day}`);
const MOVES_ON = 4;
const EPOCHS = 12;

const random = createRandom(20260511);
// Metres of a degree at the base, near enough for errors of millimetres.
const NORTH_M = 110_871;
const EAST_M = 94_960;

// What the base sent is 1.1 m from what it is known to be.
const SENT = { north: 0.7, east: -0.6, up: 0.9 };
const CONTROL = [
  ['C1', -31.49, 21.41, 1052.4],
  ['C2', -31.52, 21.43, 1038.75],
  ['C3', -31.475, 21.375, 1061.2],
  ['C4', -31.53, 21.39, 1029.9],
];

const number = (value, decimals) => value.toFixed(decimals);
const fixes = (id, place, at, errors) => {
  const rows = [];
  for (let epoch = 0; epoch < EPOCHS; epoch += 1) {
    const [north, east, up] = ['north', 'east', 'up'].map(
      (axis) => SENT[axis] + errors[axis] + (axis === 'up' ? 0.005 : 0.003) * random.normal(),
    );
    const time = new Date(at + epoch * 1000).toISOString().replace('.000', '');
    rows.push(
      [
        id,
        time,
        number(place[0] + north / NORTH_M, 9),
        number(place[1] + east / EAST_M, 9),
        number(place[2] + up, 4),
        'fixed',
        number(1 + random.uniform(), 1),
        String(14 + Math.floor(5 * random.uniform())),
        number(1.4 + 0.6 * random.uniform(), 2),
        'B1',
      ].join(','),
    );
  }
  return rows;
};

const HEADER =
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,base_id';
for (const [day, date] of DAYS.entries()) {
  const setup = { north: 0.0015 * random.normal(), east: 0.0015 * random.normal(), up: 0.002 * random.normal() };
  const work = Array.from({ length: 3 }, (_, i) => [
    `P${String(day + 1)}${String(i + 1)}`,
    -31.5 + 0.05 * (random.uniform() - 0.5),
    21.4 + 0.05 * (random.uniform() - 0.5),
    1045 + 20 * (random.uniform() - 0.5),
  ]);
  const rows = [...CONTROL, ...work].flatMap(([id, ...place], index) => {
    const moved = id === 'C3' && day >= MOVES_ON;
    const errors = {
      north: setup.north + 0.005 * random.normal(),
      east: setup.east + 0.005 * random.normal() + (moved ? 0.045 : 0),
      up: setup.up + 0.009 * random.normal() - (moved ? 0.06 : 0),
    };
    return fixes(id, place, Date.parse(`${date}T06:00:00Z`) + index * 900_000, errors);
  });
  mkdirSync(join(FOLDER, 'days'), { recursive: true });
  writeFileSync(join(FOLDER, 'days', `${date}.csv`), `${[HEADER, ...rows].join('\n')}\n`);
}
writeFileSync(
  join(FOLDER, 'control.csv'),
  `${[
    'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m,role,source',
    ...CONTROL.map(([id, latitude, longitude, height]) =>
      [id, number(latitude, 9), number(longitude, 9), number(height, 4), '0.005', '0.008', 'check', 'invented'].join(
        ',',
      ),
    ),
  ].join('\n')}\n`,
);
