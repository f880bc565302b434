// Where the time of a run goes, from a profile of it: microseconds of processor time a row by stage.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** First match wins. A function belongs to the file it is written in, as compiled: the program's own chunks would hide that. */
const STAGES = [
  ['clearing of memory', /^\(garbage collector\)/u],
  ['waiting', /^\(idle\)/u],
  ['geodesics', /geographiclib|core\/ellipsoid\/(?:short-|geodesic)/u],
  ['projection, factors, convergence', /proj4|core\/(?:grid|projection)\//u],
  ['geoid', /core\/geoid\//u],
  ['uncertainty', /uncertainty|precision-model|planning\//u],
  ['frames, antennas, acceptance, averaging', /core\/|tasks\//u],
  [
    'writing rows',
    /io\/(?:[a-z-]+\/)*(?:point-row-write|point-cells|row-bytes-|carried-row-|value-takers|write-|csv-write|cell-text|sink|temp-file|spool|geojson-write)|cli\/outputs\/|csv-stringify/u,
  ],
  ['reading rows', /io\/|csv-parse/u],
  ['commands, messages', /dist\/(?:cli|records|report)\//u],
  ['Node.js: files, hashes, starting', /.*/u],
];

/** Profiles one run of the compiled modules. Returned: rows of a table, largest first. */
export function stages(folder, args, rows) {
  const entry = join(folder, 'profiled.mjs');
  const main = new URL('../../dist/cli/main.js', import.meta.url);
  writeFileSync(entry, `import { main } from ${JSON.stringify(main.href)};\nprocess.exitCode = await main(process);\n`);
  const profiles = join(folder, 'profiles');
  mkdirSync(profiles, { recursive: true });
  const ended = spawnSync(
    process.execPath,
    ['--cpu-prof', `--cpu-prof-dir=${profiles}`, '--cpu-prof-interval', '500', entry, ...args],
    { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'], encoding: 'utf8' },
  );
  if (ended.status !== 0 && ended.status !== 1) throw new Error(ended.stderr);
  const profile = JSON.parse(readFileSync(join(profiles, readdirSync(profiles).sort().at(-1)), 'utf8'));
  const stageOf = new Map(
    profile.nodes.map(({ id, callFrame: { functionName, url } }) => {
      const path = url.startsWith('file:') ? fileURLToPath(url).replaceAll('\\', '/') : url;
      const text = path === '' ? functionName : path;
      return [id, STAGES.find(([, pattern]) => pattern.test(text))[0]];
    }),
  );
  const spent = new Map();
  profile.samples.forEach((id, index) => {
    const stage = stageOf.get(id);
    spent.set(stage, (spent.get(stage) ?? 0) + profile.timeDeltas[index]);
  });
  spent.delete('waiting');
  const total = [...spent.values()].reduce((sum, value) => sum + value, 0);
  return [...spent]
    .sort((a, b) => b[1] - a[1])
    .map(([stage, microseconds]) => ({ stage, perRow: microseconds / rows, share: microseconds / total }));
}
