// Measures whole commands: `npm run bench`, or `npm run bench -- --quick` for a tenth of the rows; `--runs N` for another number of runs
// than five, or two of a tenth.
// Wall and processor seconds and peak memory, median of the runs; the native chain that yields the
// same columns runs in turn with the reduction, so that their ratio holds on a noisy machine.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { writeCheckFiles } from './bench/check-files.mjs';
import { SESSION, writeFixes } from './bench/fixes-file.mjs';
import { writeNetworkFiles } from './bench/network-files.mjs';
import { writePlanFiles, writeSkyPoints } from './bench/plan-files.mjs';
import { scaleRows } from './bench/scale-rows.mjs';
import { stages } from './bench/stages.mjs';

const BIN = fileURLToPath(new URL('../bin/pegbook.js', import.meta.url));
// Two runs of a tenth take two minutes; what is no option is an error, not a run of half an hour.
const { values } = parseArgs({ options: { quick: { type: 'boolean', default: false }, runs: { type: 'string' } } });
const { quick } = values;
const runs = values.runs === undefined ? (quick ? 2 : 5) : Math.max(1, Math.trunc(Number(values.runs)) || 1);
const million = quick ? 100_000 : 1_000_000;
const folder = mkdtempSync(join(tmpdir(), 'pegbook-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

const has = (program) => spawnSync(program, ['--version'], { stdio: 'ignore' }).error === undefined;
const timed = has('/usr/bin/time');

/** Runs a command once: wall seconds, processor seconds, peak resident megabytes. */
function once(command, args) {
  const started = process.hrtime.bigint();
  const result = timed
    ? spawnSync('/usr/bin/time', ['-f', '%U %S %M', command, ...args], {
        cwd: folder,
        stdio: ['ignore', 'ignore', 'pipe'],
        encoding: 'utf8',
      })
    : spawnSync(command, args, { cwd: folder, stdio: 'ignore' });
  const wall = Number(process.hrtime.bigint() - started) / 1e9;
  if (result.error !== undefined || (result.status !== 0 && result.status !== 1))
    throw new Error(`${command} ${args.join(' ')}: ${result.stderr ?? result.error}`);
  const [user = 0, system = 0, peak = 0] = timed
    ? (result.stderr.trim().split('\n').at(-1) ?? '').split(' ').map(Number)
    : [];
  return { wall, cpu: user + system, peak: peak / 1024 };
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const pegbook = (...args) => [process.execPath, [BIN, ...args, '--force', '--quiet']];
const rows = [];

function measure(name, [command, args], count = runs) {
  const all = Array.from({ length: count }, () => once(command, args));
  add(name, all);
  return all;
}

/** Runs a native chain, a script of bash or a command, and ours in turn, so that each ratio is of runs that had the same machine. */
function beside(chainName, chain, ours, count = runs, against = 'the native chain') {
  const theirs = [];
  const each = ours.map(() => []);
  for (let run = 0; run < count; run += 1) {
    theirs.push(typeof chain[0] === 'string' && Array.isArray(chain[1]) ? once(...chain) : once('bash', chain));
    ours.forEach(([, command], index) => each[index].push(once(...command)));
  }
  add(chainName, theirs);
  ours.forEach(([name], index) => {
    const ratio = median(each[index].map((run, at) => run.wall / theirs[at].wall));
    add(name, each[index], `${ratio.toFixed(2)} of ${against}'s wall time`);
  });
}

function add(name, all, ratio = '') {
  const row = {
    name,
    wall: median(all.map((run) => run.wall)),
    cpu: median(all.map((run) => run.cpu)),
    peak: median(all.map((run) => run.peak)),
    ratio,
  };
  rows.push(row);
  process.stderr.write(
    `${name}: ${row.wall.toFixed(2)} s wall, ${row.cpu.toFixed(2)} s processor, ${row.peak.toFixed(0)} MB ${ratio}\n`,
  );
}

/** Grid (cct), geoid (cct), factors (TransverseMercatorProj) and baseline (GeodSolve) of the same positions, side by side, joined. */
const CHAIN = `set -e
tail -n +2 "$1" > rows.csv
cut -d, -f3,4,5 rows.csv > positions.txt
paste -d, rows.csv \\
  <(tr , ' ' < positions.txt | awk '{print $2, $1, $3, 0}' | cct -d 4 +proj=tmerc +axis=wsu +lat_0=0 +lon_0=21 +k=1 +ellps=WGS84) \\
  <(tr , ' ' < positions.txt | awk '{print $2, $1, $3, 0}' | cct -d 9 +proj=vgridshift +grids=egm96_15.gtx +multiplier=1) \\
  <(tr , ' ' < positions.txt | awk '{print $1, $2}' | TransverseMercatorProj -l 21 -k 1 -p 4) \\
  <(tr , ' ' < positions.txt | awk '{print -31.50001, 21.4, $1, $2}' | GeodSolve -i -p 4) \\
  > chain.csv`;

/** The grid pair of the same positions (cct), in place of latitude and longitude. */
const TRANSFORM_CHAIN = `set -e
tail -n +2 "$1" > rows.csv
paste -d, <(cut -d, -f1 rows.csv) \\
  <(cut -d, -f3,4,5 rows.csv | tr , ' ' | awk '{print $2, $1, $3, 0}' | cct -d 4 +proj=tmerc +axis=wsu +lat_0=0 +lon_0=21 +k=1 +ellps=WGS84) \\
  <(cut -d, -f2,6- rows.csv) > transformed.csv`;

/** Geodesics from every candidate to every point (GeodSolve), the least of what planning has to know. */
const PLAN_CHAIN = `set -e
awk -F, 'NR == FNR { if (FNR > 1) point[++n] = $2 " " $3; next } FNR > 1 { for (i = 1; i <= n; i++) print point[i], $2, $3 }' plan-points.csv plan-candidates.csv | GeodSolve -i -p 4 > lines.txt`;

/** Each point joined with its control and compared with the limits, and the root mean squares: the least of what a check has to know. */
const CHECK_CHAIN = `set -e
join -t, <(tail -n +2 check-points.csv | sort -t, -k1,1) <(tail -n +2 check-control.csv | sort -t, -k1,1) |
awk -F, '{ e = $2 - $5; n = $3 - $6; u = $4 - $7; d = sqrt(e * e + n * n); ee += e * e; nn += n * n; uu += u * u
  printf "%s,%.4f,%.4f,%.4f,%.4f,%s\\n", $1, e, n, u, d, d <= 0.05 && u * u <= 0.08 * 0.08 ? "within" : "outside" }
END { printf "rmse,%.4f,%.4f,%.4f\\n", sqrt(ee / NR), sqrt(nn / NR), sqrt(uu / NR) }' > checked.csv`;

writeFileSync(join(folder, 'session.toml'), SESSION);
writeFileSync(join(folder, 'check-chain.sh'), CHECK_CHAIN);
writeFileSync(join(folder, 'transform-chain.sh'), TRANSFORM_CHAIN);
writeFileSync(join(folder, 'plan-chain.sh'), PLAN_CHAIN);
writeFileSync(join(folder, 'chain.sh'), CHAIN);
writeFileSync(join(folder, 'empty.mjs'), '');
process.stderr.write('writing inputs\n');
await writeFixes(join(folder, 'ten.csv'), 10, 1);
await writeFixes(join(folder, 'points.csv'), million, 1);
await writeFixes(join(folder, 'epochs.csv'), million, 10);

measure('empty Node script', [process.execPath, ['empty.mjs']]);
measure('pegbook --help', [process.execPath, [BIN, '--help']]);
measure('reduce-points, 10 rows', pegbook('reduce-points', 'ten.csv', '--session', 'session.toml', '-o', 'out.csv'));
const [dayFixes, daySession] = ['fixes.csv', 'session.toml'].map((name) =>
  fileURLToPath(new URL(`../examples/quillback-pan/${name}`, import.meta.url)),
);
measure('reduce-points, the example day', pegbook('reduce-points', dayFixes, '--session', daySession, '-o', 'day.csv'));

/** A reduction, on so many threads. */
const reduce = (file, count) =>
  pegbook('reduce-points', file, '--session', 'session.toml', '-o', 'out.csv', '--workers', String(count));
const reduction = reduce('points.csv', 1);
/** A transformation, on so many threads. */
const transform = (count) =>
  pegbook(
    'transform',
    'points.csv',
    '--from',
    'EPSG:4148',
    '--to',
    'EPSG:2049',
    '-o',
    'out.csv',
    '--workers',
    String(count),
  );
const label = million.toLocaleString('en');
const isNativeHere =
  process.platform !== 'win32' && ['cct', 'GeodSolve', 'TransverseMercatorProj', 'bash', 'awk'].every(has);
if (isNativeHere) {
  beside(
    `native chain, ${label} points`,
    ['chain.sh', 'points.csv'],
    [
      [`reduce-points, ${label} points of one row, one thread`, reduction],
      [`reduce-points, ${label} points of one row, two threads`, reduce('points.csv', 2)],
      [`reduce-points, ${label} points of one row, four threads`, reduce('points.csv', 4)],
    ],
  );
} else {
  process.stderr.write('cct, GeodSolve or TransverseMercatorProj is not here: no comparison\n');
  measure(`reduce-points, ${label} points of one row, one thread`, reduction);
  measure(`reduce-points, ${label} points of one row, two threads`, reduce('points.csv', 2));
}
await writeFixes(join(folder, 'tenth.csv'), million / 10, 1);
measure(`reduce-points, ${(million / 10).toLocaleString('en')} points of one row, one thread`, reduce('tenth.csv', 1));
measure(`reduce-points, ${label} epochs in occupations of ten, one thread`, reduce('epochs.csv', 1));
measure(`reduce-points, ${label} epochs in occupations of ten, two threads`, reduce('epochs.csv', 2));
if (!quick) {
  await writeFixes(join(folder, 'points4.csv'), 4 * million, 1);
  measure('reduce-points, 4,000,000 points of one row, one thread', reduce('points4.csv', 1));
  measure('reduce-points, 4,000,000 points of one row, two threads', reduce('points4.csv', 2));
}

if (isNativeHere)
  beside(
    `native chain, ${label} points to a grid`,
    ['transform-chain.sh', 'points.csv'],
    [
      [`transform, ${label} points, one thread`, transform(1)],
      [`transform, ${label} points, two threads`, transform(2)],
    ],
  );
else measure(`transform, ${label} points, one thread`, transform(1));

const controlPoints = quick ? 2_000 : 20_000;
writeCheckFiles(folder, controlPoints);
const check = [
  `check-tolerances, ${controlPoints.toLocaleString('en')} control points`,
  pegbook(
    'check-tolerances',
    'check-points.csv',
    '--system',
    'EPSG:2049',
    '--control',
    'check-control.csv',
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.08',
    '-o',
    'check.csv',
  ),
];
if (isNativeHere)
  beside(`native chain, ${controlPoints.toLocaleString('en')} differences`, ['check-chain.sh'], [check]);
else measure(...check);

writePlanFiles(folder, 10_000, 50);
const plans = [['best candidate'], ['best 4', '--find-bases', '4'], ['fewest', '--fewest']].map(
  ([what, ...question]) => [
    `plan-baseline, 10,000 points x 50 candidates, ${what}`,
    pegbook(
      'plan-baseline',
      'plan-points.csv',
      '--candidates',
      'plan-candidates.csv',
      ...question,
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
);
if (isNativeHere) beside('native chain, 500,000 geodesics', ['plan-chain.sh'], plans);
else for (const plan of plans) measure(...plan);
writeSkyPoints(folder, 100);
const navigation = fileURLToPath(new URL('../examples/quillback-pan-sky/navigation.rnx', import.meta.url));
const skyPlaces = ['sky-points.csv', '--base', '-31.5,21.4,1040', '--system', 'EPSG:4326'];
measure(
  'plan-sky, a day of 288 instants x 100 points x 114 satellites',
  pegbook('plan-sky', ...skyPlaces, '--navigation', navigation, '--date', '2025-08-02', '-o', 'sky.csv'),
);

await scaleRows({ folder, quick, isNativeHere, pegbook, measure, beside });

const hasSciPy = spawnSync('python3', ['-c', 'import numpy, scipy'], { stdio: 'ignore' }).status === 0;
if (!hasSciPy) process.stderr.write('python3 with numpy and scipy is not here: networks are not compared\n');
const bench = (name) => fileURLToPath(new URL(`bench/${name}`, import.meta.url));
writeFileSync(join(folder, 'network-chain.sh'), `exec python3 -B '${bench('network-solve.py')}'`);
/** Points, and the median wall seconds of the adjustment by the library. */
const networks = [];
for (const points of quick ? [5_000, 50_000] : [5_000, 50_000, 1_000_000]) {
  process.stderr.write('writing a network\n');
  const vectors = writeNetworkFiles(folder, points).toLocaleString('en');
  const count = points > 100_000 ? 1 : runs;
  const size = `${points.toLocaleString('en')} points, ${vectors} vectors`;
  const name = `adjustment of ${size}, twice, with all variances and tests`;
  const solve = [process.execPath, ['--max-old-space-size=4096', bench('network-solve.mjs')]];
  if (hasSciPy) beside(`SciPy, ${size}, the solution alone`, ['network-chain.sh'], [[name, solve]], count);
  else measure(name, solve, count);
  networks.push([points, rows.at(-1).wall]);
  if (points <= 50_000) measure(`adjust-network, ${size}`, network());
}

function network() {
  const files = ['--vectors', 'network-vectors.csv', '--control', 'network-control.csv'];
  const sigmas = ['--setup-sigma-horizontal', '0.005', '--setup-sigma-vertical', '0.005'];
  return pegbook('adjust-network', ...files, ...sigmas, '-o', 'network.csv', '--observations', 'observations.csv');
}

const git = (() => {
  try {
    return execFileSync('git', ['describe', '--always'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    }).trim();
  } catch {
    return 'no commit';
  }
})();
console.log(
  `${new Date().toISOString().slice(0, 10)}, ${git}, Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? 'processor'}, ${Math.round(totalmem() / 2 ** 30)} GB; median of ${runs} runs\n`,
);
console.log('| what | wall s | processor s | peak MB | ratio |\n|---|---|---|---|---|');
for (const row of rows)
  console.log(
    `| ${row.name} | ${row.wall.toFixed(2)} | ${timed ? row.cpu.toFixed(2) : ''} | ${timed ? row.peak.toFixed(0) : ''} | ${row.ratio} |`,
  );
for (let at = 1; at < networks.length; at += 1) {
  const [[fewer, before], [more, after]] = [networks[at - 1], networks[at]];
  console.log(
    `\nAdjustment from ${fewer.toLocaleString('en')} to ${more.toLocaleString('en')} points: time grows with the power ${(Math.log(after / before) / Math.log(more / fewer)).toFixed(2)} of the points`,
  );
}
console.log(`\n| stage of reduce-points, ${label} points of one row | µs a row | share |\n|---|---|---|`);
for (const { stage, perRow, share } of stages(folder, reduction[1].slice(1), million))
  console.log(`| ${stage} | ${perRow.toFixed(2)} | ${(share * 100).toFixed(0)} % |`);
