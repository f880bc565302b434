// Rows of the bench for what grows with repeats, lines, sites, features, long stands and logs: seeded inputs, and the native chain of each.
import { spawnSync } from 'node:child_process';
import { createWriteStream, existsSync, statSync, writeFileSync } from 'node:fs';
import { once } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writePlanFiles } from './plan-files.mjs';

/** Fractions of 1 from a multiplicative sequence (minimal standard generator); the same in every run. */
function fractions(seed) {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

const START_MS = Date.UTC(2026, 2, 4, 6);
const HEADER =
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,sigma_up_m';
const utc = (ms) => new Date(ms).toISOString().replace('.000', '');

/** Writes the lines of a generator, a megabyte at a time. */
async function writeLines(path, lines) {
  const out = createWriteStream(path);
  let text = '';
  for (const line of lines) {
    text += `${line}\n`;
    if (text.length < 1 << 20) continue;
    if (!out.write(text)) await once(out, 'drain');
    text = '';
  }
  out.end(text);
  await once(out, 'finish');
}

/** Stands of so many points one after another, each a centimetre or so from its place. */
function* stands(points, times) {
  const next = fractions(20_260_306);
  const places = Array.from({ length: points }, () => [
    -31.5 + (next() - 0.5) * 0.8,
    21.4 + (next() - 0.5) * 0.8,
    1000 + 200 * next(),
  ]);
  const off = (size) => (next() + next() + next() - 1.5) * size;
  yield HEADER;
  for (let time = 0; time < times; time += 1)
    for (const [point, [latitude, longitude, height]] of places.entries())
      yield `P${point},${utc(START_MS + (time * points + point) * (times > 10 ? 7_200_000 : 1000))},${(latitude + off(2e-7)).toFixed(10)},${(longitude + off(2e-7)).toFixed(10)},${(height + off(0.03)).toFixed(4)},fixed,1.0,18,1.5,0.012`;
}

/** A line of so many points, and as many points some centimetres beside it. */
function writeLineFiles(folder, count) {
  const next = fractions(20_260_307);
  let [westing, southing] = [-38_000, 3_486_000];
  const places = Array.from({ length: count }, (_, index) => {
    const direction = 1.2 * Math.sin(index / 300);
    return [(westing += 8 * Math.cos(direction)), (southing += 8 * Math.sin(direction))];
  });
  const near = places.map(
    ([first, second], index) =>
      `M${index},${(first + 0.06 * next()).toFixed(4)},${(second + 0.06 * next()).toFixed(4)}`,
  );
  const design = places.map(([first, second], index) => `D${index},${first.toFixed(3)},${second.toFixed(3)},0.05`);
  writeFileSync(
    join(folder, 'line-points.csv'),
    `point_id,westing_m,southing_m\n${near.sort((a, b) => (a < b ? -1 : 1)).join('\n')}\n`,
  );
  writeFileSync(
    join(folder, 'line-design.csv'),
    `point_id,westing_m,southing_m,tolerance_horizontal_m\n${design.join('\n')}\n`,
  );
}

/** Control around the ground of the points, counted to the east and the north, and the same points in the grid. */
function writeSiteFiles(folder) {
  const places = Array.from({ length: 12 }, (_, index) => {
    const angle = (Math.PI * index) / 6;
    return [-38_000 + 60_000 * Math.cos(angle), 3_487_000 + 66_000 * Math.sin(angle), 1000 + 10 * index];
  });
  const row = ([first, second, height], index) => `S${index},${first.toFixed(4)},${second.toFixed(4)},${height}.0`;
  writeFileSync(
    join(folder, 'site-points.csv'),
    `point_id,westing_m,southing_m,ellipsoidal_height_m\n${places.map(row).join('\n')}\n`,
  );
  const control = places.map(([first, second, height], index) =>
    row([-first * 1.00002 + 0.003 * (index % 3), -second * 1.00002 - 0.004 * (index % 2), height], index),
  );
  writeFileSync(
    join(folder, 'site-control.csv'),
    `point_id,easting_m,northing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m,role\n${control.map((line) => `${line},0.01,0.01,fit`).join('\n')}\n`,
  );
}

function* features(count) {
  const next = fractions(20_260_308);
  yield '{"type":"FeatureCollection","features":[';
  for (let index = 0; index < count; index += 1)
    yield `{"type":"Feature","geometry":{"type":"Point","coordinates":[${(21.4 + (next() - 0.5) * 0.8).toFixed(10)},${(-31.5 + (next() - 0.5) * 0.8).toFixed(10)},${(1000 + next() * 200).toFixed(4)}]},"properties":{"point_id":"P${index}","epoch_utc":"${utc(START_MS + index * 1000)}","solution":"fixed","correction_age_s":1.0,"satellites_used":18,"pdop":1.5,"sigma_up_m":0.012}}${index + 1 < count ? ',' : ''}`;
  yield ']}';
}

/** A log of five positions a second without names. */
function* sentences(count) {
  const next = fractions(20_260_309);
  const said = (body) => {
    let sum = 0;
    for (let index = 0; index < body.length; index += 1) sum ^= body.charCodeAt(index);
    return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}\r`;
  };
  const minutes = () => String(Math.floor(next() * 1000)).padStart(7, '0');
  for (let index = 0; index < count; index += 1) {
    const time = new Date(START_MS + index * 200).toISOString();
    const clock = time.slice(11, 22).replaceAll(':', '');
    const place = `3130.${minutes()},S,02124.${minutes()},E`;
    if (index % 5 === 0)
      yield said(`GNRMC,${clock},A,${place},0.0,0.0,${time.slice(8, 10)}${time.slice(5, 7)}${time.slice(2, 4)},,,R`);
    yield said(`GNGGA,${clock},${place},4,18,0.8,1000.${Math.floor(next() * 1000)},M,30.0,M,1.0,0001`);
  }
}

const GRID = 'cct -d 4 +proj=tmerc +axis=wsu +lat_0=0 +lon_0=21 +k=1 +ellps=WGS84';

/** What general-purpose programs do of the same, by the row. */
const CHAINS = {
  // The grid pair of each stand (cct), and the mean of those of a point.
  combine: `set -e
tail -n +2 "$1" > rows.csv
paste -d' ' <(cut -d, -f1 rows.csv) <(cut -d, -f3,4,5 rows.csv | tr , ' ' | awk '{print $2, $1, $3, 0}' | ${GRID}) |
awk '{ n[$1]++; w[$1] += $2; s[$1] += $3; h[$1] += $4 } END { for (id in n) printf "%s,%.4f,%.4f,%.4f\\n", id, w[id] / n[id], s[id] / n[id], h[id] / n[id] }' > combined.csv`,
  // The geodesic from each point to the next (GeodSolve), and the grid pairs (cct).
  join: `set -e
tail -n +2 points.csv | cut -d, -f3,4,5 | tr , ' ' > positions.txt
paste -d' ' <(awk 'NR > 1 { print before, $1, $2 } { before = $1 " " $2 }' positions.txt | GeodSolve -i -p 4) \\
  <(awk '{print $2, $1, $3, 0}' positions.txt | ${GRID}) > lines.txt`,
  // The nearest segment of each point, one segment after another.
  line: `awk -F, 'NR == FNR { if (FNR > 1) { x[++n] = $2; y[n] = $3 } next } FNR > 1 { best = 1e30
  for (i = 1; i < n; i++) { e = x[i + 1] - x[i]; s = y[i + 1] - y[i]; l = e * e + s * s; t = (($2 - x[i]) * e + ($3 - y[i]) * s) / l; t = t < 0 ? 0 : t > 1 ? 1 : t
    d = ($2 - x[i] - t * e) ^ 2 + ($3 - y[i] - t * s) ^ 2; if (d < best) { best = d; at = i } }
  printf "%s,%d,%.4f\\n", $1, at, sqrt(best) }' line-design.csv line-points.csv > offsets.csv`,
  plan: `awk -F, 'NR == FNR { if (FNR > 1) point[++n] = $2 " " $3; next } FNR > 1 { for (i = 1; i <= n; i++) print point[i], $2, $3 }' plan-points.csv plan-candidates.csv | GeodSolve -i -p 4 > lines.txt`,
  // Each feature read, and its grid pair (cct).
  features: `set -e
python3 -c "
import json
for own in json.load(open('features.geojson'))['features']: print(*own['geometry']['coordinates'], 0)
" | ${GRID} > features.txt`,
  // The mean of all positions, and its grid pair.
  stand: `tail -n +2 stand.csv | awk -F, '{ b += $3; l += $4; h += $5 } END { printf "%.10f %.10f %.4f 0\\n", l / NR, b / NR, h / NR }' | ${GRID} > stand.txt`,
  log: `awk -F, '/GGA/ { b += substr($3, 1, 2) + substr($3, 3) / 60; l += substr($5, 1, 3) + substr($5, 4) / 60; h += $10; n++ } END { printf "%.10f %.10f %.4f 0\\n", l / n, -b / n, h / n }' log.nmea | ${GRID} > log.txt`,
};

/**
 * Writes the inputs and measures the rows. Given: the folder of the bench, which holds points.csv and session.toml; whether a tenth is
 * asked for; whether the programs of the chains are here; how a command is named and measured (see tools/bench.mjs).
 */
export async function scaleRows({ folder, quick, isNativeHere, pegbook, measure, beside }) {
  const size = (full) => (quick ? full / 10 : full);
  const said = (count) => count.toLocaleString('en');
  // A tenth is measured once, so that all of it takes three minutes.
  const row = (name, chain, command, count = quick ? 1 : undefined) =>
    isNativeHere
      ? beside(`native chain, ${name}`, ['-c', CHAINS[chain.name], 'chain', ...chain.args], [command], count)
      : measure(...command, count);
  const reduce = (file, ...more) =>
    pegbook('reduce-points', file, '--session', 'session.toml', '-o', 'out.csv', ...more);
  const run = ([command, args]) => {
    const { status, stderr } = spawnSync(command, args, { cwd: folder, encoding: 'utf8' });
    if (status !== 0 && status !== 1) throw new Error(stderr);
  };
  process.stderr.write('writing inputs of the rows that grow\n');
  await writeLines(join(folder, 'stands.csv'), stands(size(50_000), 3));
  await writeLines(join(folder, 'times.csv'), stands(1, size(4000)));
  writeLineFiles(folder, size(10_000));
  writeSiteFiles(folder);
  run(pegbook('transform', 'points.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '-o', 'moved.csv'));
  run(
    pegbook(
      'fit-site',
      'site-points.csv',
      '--control',
      'site-control.csv',
      '--system',
      'EPSG:2049',
      '--site-axes',
      'easting_m,northing_m',
      '-o',
      'site.json',
    ),
  );

  const threeTimes = `${said(size(50_000))} points of three stands`;
  row(threeTimes, { name: 'combine', args: ['stands.csv'] }, [
    `reduce-points --combine, ${threeTimes}`,
    reduce('stands.csv', '--combine'),
  ]);
  const often = `one point of ${said(size(4000))} stands`;
  row(often, { name: 'combine', args: ['times.csv'] }, [
    `reduce-points --combine, ${often}`,
    reduce('times.csv', '--combine'),
  ]);
  const lines = `${said(size(1_000_000))} points to the next`;
  row(lines, { name: 'join', args: [] }, [
    `join-points --consecutive, ${lines}`,
    pegbook('join-points', 'moved.csv', '--system', 'EPSG:2049', '--consecutive', '-o', 'out.csv'),
  ]);
  const transform = pegbook('transform', 'moved.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '-o', 'out.csv');
  const onto = pegbook('transform', 'moved.csv', '--from', 'EPSG:2049', '--site', 'site.json', '-o', 'out.csv');
  beside(
    `transform, ${said(size(1_000_000))} points from a grid`,
    transform,
    [[`transform --site, ${said(size(1_000_000))} points`, onto]],
    quick ? 1 : undefined,
    'the plain transform',
  );
  const offsets = `${said(size(10_000))} points and a line of as many`;
  row(
    offsets,
    { name: 'line', args: [] },
    [
      `check-tolerances --line, ${offsets}`,
      pegbook(
        'check-tolerances',
        'line-points.csv',
        '--system',
        'EPSG:2049',
        '--design',
        'line-design.csv',
        '--line',
        '-o',
        'out.csv',
      ),
    ],
    1,
  );

  await writeLines(join(folder, 'features.geojson'), features(size(1_000_000)));
  const read = `${said(size(1_000_000))} GeoJSON features`;
  row(read, { name: 'features', args: [] }, [`reduce-points, ${read}`, reduce('features.geojson')], 1);
  const epochs = `one stand of ${said(size(600_000))} epochs`;
  await writeLines(join(folder, 'stand.csv'), oneStand(size(600_000)));
  row(epochs, { name: 'stand', args: [] }, [`reduce-points, ${epochs}`, reduce('stand.csv')]);
  await writeLines(join(folder, 'log.nmea'), sentences(size(600_000)));
  const log = `${said(size(600_000))} positions of a log without names`;
  row(log, { name: 'log', args: [] }, [`reduce-points, ${log}`, reduce('log.nmea')]);
  if (!quick) {
    writePlanFiles(folder, 100_000, 100);
    const among = '100,000 points x 100 candidates';
    row(
      among,
      { name: 'plan', args: [] },
      [
        `plan-baseline, ${among}, best candidate`,
        pegbook(
          'plan-baseline',
          'plan-points.csv',
          '--candidates',
          'plan-candidates.csv',
          '--system',
          'EPSG:4326',
          '--limit-horizontal',
          '0.05',
          '--pole-length',
          '2',
          '--base-sigma',
          '0.01,0.02',
          '-o',
          'plan.csv',
        ),
      ],
      1,
    );
  }
  executableRow(measure);
}

function* oneStand(count) {
  const next = fractions(20_260_310);
  yield HEADER;
  for (let index = 0; index < count; index += 1)
    yield `P0,${utc(START_MS + index * 1000)},${(-31.4 + next() * 4e-8).toFixed(10)},${(21.3 + next() * 4e-8).toFixed(10)},${(1000 + next() * 0.004).toFixed(4)},fixed,1.0,18,1.5,0.012`;
}

/** The executable that `npm run package` makes, where it has been made: its size stands in the name of its row. */
function executableRow(measure) {
  const path = fileURLToPath(
    new URL(`../../packaged/pegbook${process.platform === 'win32' ? '.exe' : ''}`, import.meta.url),
  );
  if (!existsSync(path)) {
    process.stderr.write('no executable has been made (npm run package): its start is not measured\n');
    return;
  }
  measure(`the executable (${(statSync(path).size / 1e6).toFixed(0)} MB) --help`, [path, ['--help']]);
}
