// Plants each cause at three sizes in seeded invented days and counts how often it is ranked first.
//   node tools/cause-rates.mjs [runs] [clean runs]     (after npm run build)
// Prints the table that stands in docs/methods/likely-cause.md. The same arguments give the same table.
import * as geocentric from '../dist/core/geodesy/geocentric.js';
import * as ellipsoid from '../dist/core/geodesy/ellipsoid.js';
import { createGeodesic } from '../dist/core/geodesy/geodesic.js';
import * as localFrame from '../dist/core/geodesy/local-frame.js';
import { movePoint } from '../dist/core/geodesy/plate-motion.js';
import { PLATE_POLES } from '../dist/core/geodesy/plate-pole.js';
import { buildGridSystem } from '../dist/core/grid/build-grid-system.js';
import { definitionFromProjString } from '../dist/core/grid/definition-from-proj-string.js';
import { createPrecisionModel } from '../dist/core/planning/precision-model.js';
import { likelyCause } from '../dist/core/quality/cause/likely-cause.js';
import { createCauseDays } from './cause-days.mjs';

const RUNS = Number(process.argv[2] ?? 200);
const CLEAN_RUNS = Number(process.argv[3] ?? 3000);
const days = createCauseDays({ ...geocentric, ...ellipsoid, ...localFrame, createGeodesic, movePoint, PLATE_POLES, buildGridSystem, definitionFromProjString, createPrecisionModel });

const percent = (count, of) => `${((100 * count) / of).toFixed(1)} %`;
const lines = ['| cause | sizes | named and ranked first | first or alike |', '|---|---|---|---|'];
let seed = 1;
for (const { name, cause, sizes, unit } of days.causes) {
  const firsts = [];
  const alikes = [];
  const taken = new Map();
  for (const size of sizes) {
    let first = 0;
    let alike = 0;
    for (let run = 0; run < RUNS; run += 1) {
      seed += 1;
      const report = likelyCause(days.planted(name, size, seed));
      const named = report?.verdict === 'named' ? report.findings[0].cause : (report?.verdict ?? 'no answer');
      if (named === cause) first += 1;
      else if (size === sizes.at(-1)) taken.set(named, (taken.get(named) ?? 0) + 1);
      if (named === cause || (report?.verdict === 'named' && report.alike.includes(cause))) alike += 1;
    }
    firsts.push(percent(first, RUNS));
    alikes.push(percent(alike, RUNS));
  }
  lines.push(`| ${name} | ${sizes.join(', ')} ${unit} | ${firsts.join(', ')} | ${alikes.join(', ')} |`);
  if (process.env.CAUSE_RATES_DETAIL) process.stderr.write(`${name}: ${firsts.join(', ')}  else ${[...taken].map(([other, count]) => `${other} ${count}`).join(', ')}\n`);
}
let falseNames = 0;
let disturbed = 0;
for (let run = 0; run < CLEAN_RUNS; run += 1) {
  seed += 1;
  const report = likelyCause(days.clean(seed));
  if (report?.isDisturbed) disturbed += 1;
  if (report?.verdict === 'named') falseNames += 1;
}
process.stdout.write(`${lines.join('\n')}\n\nDays without a mistake: ${CLEAN_RUNS}; residuals that disagree with their noise: ${percent(disturbed, CLEAN_RUNS)}; a cause named: ${percent(falseNames, CLEAN_RUNS)}.\nRuns at each size: ${RUNS}.\n`);
