// Runs each command that takes rows at a size, `node tools/at-scale.mjs --rows N` (a million unless it is said), and shows that
// each ends as the table of exit codes says: 0 or 1, never 70 and never by a signal. The memory of the engine is bounded by
// --memory MIB (`--max-old-space-size`). It needs a built program. Commands that compare points take a tenth of the rows,
// a network at most 100,000 points. Then commands whose memory may not grow with their rows run at 200,000 and at 800,000 of them.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeCheckFiles } from './bench/check-files.mjs';
import { SESSION, writeFixes } from './bench/fixes-file.mjs';
import { writeNetworkFiles } from './bench/network-files.mjs';
import { writePlanFiles } from './bench/plan-files.mjs';

const BIN = fileURLToPath(new URL('../bin/pegbook.js', import.meta.url));

/** A whole number given on the command line after its name. */
function given(name, fallback) {
  const at = process.argv.indexOf(name);
  const value = at < 0 ? fallback : Number(process.argv[at + 1]);
  if (!Number.isInteger(value) || value < 10) throw new Error(`${name} takes a whole number from 10 on`);
  return value;
}

const rows = given('--rows', 1_000_000);
const memory = given('--memory', 2048);
const compared = Math.max(10, Math.floor(rows / 10));
const networked = Math.min(rows, 100_000);
const folder = mkdtempSync(join(tmpdir(), 'pegbook-scale-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

writeFileSync(join(folder, 'session.toml'), SESSION);
await writeFixes(join(folder, 'points.csv'), rows, 1);
await writeFixes(join(folder, 'stand.csv'), rows, rows);
await writeFixes(join(folder, 'stands.csv'), compared, 10);
writeCheckFiles(folder, compared);
writePlanFiles(folder, compared, 3);
writeNetworkFiles(folder, networked);
writeFileSync(
  join(folder, 'pillar.csv'),
  `point_id,occupation,easting_m,northing_m,ellipsoidal_height_m,sigma_east_m,sigma_north_m,sigma_up_m\n${Array.from({ length: Math.max(10, Math.floor(rows / 1000)) }, (_, index) => `P,${index},${(index % 7) / 1000},${(index % 5) / 1000},${(index % 3) / 1000},0.01,0.01,0.02`).join('\n')}\n`,
);

// The site counts to the east and the north where the grid counts to the west and the south.
const control = readFileSync(join(folder, 'check-control.csv'), 'utf8')
  .trimEnd()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','));
const site = control.map(([id, westing, southing, height, horizontal, vertical]) =>
  [id, -westing, -southing, height, horizontal, vertical, 'fit'].join(','),
);
writeFileSync(
  join(folder, 'site-control.csv'),
  `point_id,easting_m,northing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role\n${site.join('\n')}\n`,
);

const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.08'];
const reduce = (file, ...more) => ['reduce-points', file, '--session', 'session.toml', '-o', 'reduced.csv', ...more];
const half = Math.floor(rows / 2);
const RUNS = [
  [half, reduce('points.csv', '--rows', `:${half}`, '--record', 'part-1.json')],
  [half, reduce('points.csv', '--rows', `${half + 1}:`, '--omit-header', '--record', 'part-2.json')],
  [2, ['merge-records', 'part-1.json', 'part-2.json', '-o', 'merged.json']],
  [rows, reduce('points.csv', '--record', 'record.json')],
  [rows, reduce('stand.csv', '--epochs', 'epochs.csv')],
  [compared, reduce('stands.csv', '--combine', '--report', 'page.html')],
  [rows, ['transform', 'points.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '-o', 'moved.csv']],
  // A document larger than what the engine may hold of it.
  [rows, ['transform', 'points.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '-o', 'moved.geojson']],
  [rows, ['transform', 'moved.geojson', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '-o', 'moved.json']],
  [rows, ['join-points', 'moved.csv', '--system', 'EPSG:2049', '--consecutive', '-o', 'lines.csv']],
  [
    compared,
    [
      'check-tolerances',
      'check-points.csv',
      '--system',
      'EPSG:2049',
      '--control',
      'check-control.csv',
      ...limits,
      '-o',
      'checks.csv',
      '--report',
      'page.html',
    ],
  ],
  [
    compared,
    [
      'check-tolerances',
      'check-points.csv',
      '--system',
      'EPSG:2049',
      '--design',
      'check-control.csv',
      ...limits,
      '-o',
      'checks.json',
    ],
  ],
  [Math.floor(rows / 1000), ['check-tolerances', 'pillar.csv', '--repeats', '-o', 'checks.csv']],
  [
    compared,
    [
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
    ],
  ],
  [
    compared,
    [
      'fit-site',
      'check-points.csv',
      '--control',
      'site-control.csv',
      '--system',
      'EPSG:2049',
      '--site-axes',
      'easting_m,northing_m',
      '-o',
      'site.json',
    ],
  ],
  [
    networked,
    [
      'adjust-network',
      '--vectors',
      'network-vectors.csv',
      '--control',
      'network-control.csv',
      '-o',
      'network.csv',
      '--observations',
      'observations.csv',
    ],
  ],
  [1, ['describe-system', 'EPSG:2049']],
];

let isWrong = false;
for (const [count, words] of RUNS) {
  const started = Date.now();
  const { status, signal, stderr } = spawnSync(
    process.execPath,
    [`--max-old-space-size=${memory}`, BIN, ...words, '--force', '--quiet'],
    { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'], encoding: 'utf8', maxBuffer: 1 << 26 },
  );
  const isFine = status === 0 || status === 1;
  isWrong ||= !isFine;
  console.log(
    `${isFine ? 'ok' : 'WRONG'}  exit ${status ?? signal}  ${((Date.now() - started) / 1000).toFixed(1)} s  ${count.toLocaleString('en')}  ${words.slice(0, 6).join(' ')}`,
  );
  if (!isFine) console.log(stderr.slice(0, 2000));
}

/** Peak memory may differ by so much between the two sizes: 70 bytes a row. What is kept of each row shows; the engine's own moods do not. */
const FLAT_MIB = 40;
const PEAK = `data:text/javascript,${encodeURIComponent("import { writeSync } from 'node:fs'; process.on('exit', () => writeSync(2, `\\npeak ${process.resourceUsage().maxRSS}`));")}`;

/** Peak resident memory of a run, MiB. */
function peakOf(words) {
  const { status, stderr } = spawnSync(process.execPath, ['--import', PEAK, BIN, ...words, '--force', '--quiet'], {
    cwd: folder,
    stdio: ['ignore', 'ignore', 'pipe'],
    encoding: 'utf8',
  });
  const kilobytes = Number(/peak (\d+)$/u.exec(stderr)?.[1]);
  if (status !== 0 || !(kilobytes > 0)) throw new Error(`${words.join(' ')}: exit ${status}: ${stderr.slice(0, 2000)}`);
  return kilobytes / 1024;
}

await writeFixes(join(folder, 'few.csv'), 200_000, 1);
await writeFixes(join(folder, 'many.csv'), 800_000, 1);
await writeFixes(join(folder, 'few-stands.csv'), 200_000, 10);
await writeFixes(join(folder, 'many-stands.csv'), 800_000, 10);
const FLAT = [
  ['', reduce('FILE', '--workers', '1')],
  ['-stands', reduce('FILE', '--workers', '1')],
  ['', ['transform', 'FILE', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '-o', 'moved.csv']],
];
for (const [kind, words] of FLAT) {
  const peaks = ['few', 'many'].map((size) =>
    peakOf(words.map((word) => (word === 'FILE' ? `${size}${kind}.csv` : word))),
  );
  const isFlat = peaks[1] - peaks[0] < FLAT_MIB;
  isWrong ||= !isFlat;
  console.log(
    `${isFlat ? 'ok' : 'WRONG'}  ${peaks.map((peak) => `${peak.toFixed(0)} MiB`).join(' and ')} at 200,000 and 800,000 rows${isFlat ? '' : `, ${FLAT_MIB} MiB apart at most`}  ${words[0]} ${kind}`,
  );
}
process.exitCode = isWrong ? 1 : 0;
