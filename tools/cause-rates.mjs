// Plants each cause at three sizes in seeded invented days and counts what the search for causes says.
//   node tools/cause-rates.mjs [runs] [clean runs] [name …]     (after npm run build)
// Prints the tables that stand in docs/methods/likely-cause.md. The same arguments give the same tables; ten minutes of
// one processor for all of 200 runs. The errors of the days are those of tools/cause-days.mjs, not the search's own.
import * as geocentric from '../dist/core/ellipsoid/geocentric.js';
import * as ellipsoid from '../dist/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../dist/core/ellipsoid/geodesic.js';
import * as localFrame from '../dist/core/ellipsoid/local-frame.js';
import { movePoint } from '../dist/core/frames/plates/plate-motion.js';
import { PLATE_MODELS } from '../dist/core/frames/plates/plate-models.js';
import { buildGridSystem } from '../dist/core/grid/systems/build-grid-system.js';
import { definitionFromProjString } from '../dist/core/projection/definition/definition-from-proj-string.js';
import { fQuantile } from '../dist/core/numeric/distributions/f-distribution.js';
import { NOISE_DEGREES } from '../dist/core/quality/cause/cause-level.js';
import { CAUSE_COUNT } from '../dist/core/quality/cause/cause-ids.js';
import { dayCovariance } from '../dist/core/quality/cause/day-covariance.js';
import { observationList } from '../dist/core/quality/cause/observation-list.js';
import { createWhitener } from '../dist/core/quality/cause/whitener.js';
import { FALSE_CAUSE_LEVEL } from '../dist/core/quality/decision-levels.js';
import { likelyCause } from '../dist/core/quality/cause/likely-cause.js';
import { createCauseDays } from './cause-days.mjs';
import { createSight, namesBoth, outcomeOf, PHYSICAL_PAIRS } from './cause-outcome.mjs';

const RUNS = Number(process.argv[2] ?? 200);
/** A search for two causes takes ten times as long. */
const PAIR_RUNS = Math.ceil(RUNS / 4);
const CLEAN_RUNS = Number(process.argv[3] ?? 1000);
const only = process.argv.slice(4);
const days = createCauseDays({
  ...geocentric,
  ...ellipsoid,
  ...localFrame,
  createGeodesic,
  movePoint,
  PLATE_POLES: PLATE_MODELS.itrf2014.poles,
  buildGridSystem,
  definitionFromProjString,
});
const isSeen = createSight({
  createWhitener,
  dayCovariance,
  observationList,
  fQuantile,
  noiseDegrees: NOISE_DEGREES,
  level: FALSE_CAUSE_LEVEL / CAUSE_COUNT,
});
const percent = (count, of) => (of === 0 ? 'none' : `${((100 * count) / of).toFixed(1)} %`);
const print = (...lines) => process.stdout.write(`${lines.join('\n')}\n`);

const causes = days.causes.filter(({ name }) => only.length === 0 || only.includes(name));
/** Each table row has seeds of its own, so that one made alone is the same. */
const SEEDS = 20_000;
const named = new Map();
print(
  '| cause | sizes | named first | first or tied | above the least detectable | of those first or tied |',
  '|---|---|---|---|---|---|',
);
for (const test of causes) {
  const { name, cause, sizes, unit } = test;
  let seed = SEEDS * (1 + days.causes.indexOf(test));
  const rows = sizes.map(() => ({ first: 0, tied: 0 }));
  const above = { count: 0, tied: 0 };
  const taken = new Map();
  sizes.forEach((size, row) => {
    for (let run = 0; run < RUNS; run += 1) {
      seed += 1;
      const outcome = outcomeOf(likelyCause(days.planted(name, size, seed)));
      if (outcome.first === cause) rows[row].first += 1;
      const isTied = outcome.tied.includes(cause);
      if (isTied) rows[row].tied += 1;
      const counts = isSeen(days.planted(name, size, seed, true), test, size);
      if (name !== 'noise' && counts) above.count += 1;
      if (name !== 'noise' && counts && isTied) above.tied += 1;
      const word = isTied ? cause : outcome.first;
      if (name === 'noise' || counts) taken.set(word, (taken.get(word) ?? 0) + 1);
    }
  });
  named.set(name, taken);
  print(
    `| ${name} | ${sizes.join(', ')} ${unit} | ${rows.map(({ first }) => percent(first, RUNS)).join(', ')} | ${rows.map(({ tied }) => percent(tied, RUNS)).join(', ')} | ${name === 'noise' ? '-' : above.count} | ${name === 'noise' ? '-' : percent(above.tied, above.count)} |`,
  );
}
print('', '| planted, above the least detectable | said |', '|---|---|');
for (const [name, taken] of named)
  print(
    `| ${name} | ${[...taken]
      .sort((a, b) => b[1] - a[1])
      .map(([word, count]) => `${word} ${count}`)
      .join(', ')} |`,
  );

print('', '| two blunders | both named, or tied | said otherwise |', '|---|---|---|');
for (const [names, sizes] of only.length > 0 && !only.includes('pairs') ? [] : PHYSICAL_PAIRS) {
  let seed = SEEDS * (50 + PHYSICAL_PAIRS.findIndex(([pair]) => pair === names));
  let both = 0;
  const other = new Map();
  for (let run = 0; run < PAIR_RUNS; run += 1) {
    seed += 1;
    const report = likelyCause(days.pair(names, sizes, seed));
    const { word } = outcomeOf(report);
    if (namesBoth(report, names)) both += 1;
    else other.set(word, (other.get(word) ?? 0) + 1);
  }
  print(
    `| ${names.map((name, i) => `${name} of ${sizes[i]} m`).join(' and ')} | ${percent(both, PAIR_RUNS)} | ${[...other]
      .sort((a, b) => b[1] - a[1])
      .map(([word, count]) => `${word} ${count}`)
      .join(', ')} |`,
  );
}
print(
  '',
  '| days without a mistake | days | a physical cause named | noise named | no single cause | what was named |',
  '|---|---|---|---|---|---|',
);
const CLEAN = [
  ['errors as stated', 1, null, 61],
  ['errors 2 times those stated', 2, null, 62],
  ['errors as stated, without times', 1, 'times', 63],
  ['errors as stated, without sigmas of the base', 1, 'base', 64],
];
for (const [words, louder, hides, place] of only.length > 0 && !only.includes('clean') ? [] : CLEAN) {
  let seed = SEEDS * place;
  const count = { physical: 0, noise: 0, none: 0 };
  const taken = new Map();
  for (let run = 0; run < CLEAN_RUNS; run += 1) {
    seed += 1;
    const outcome = outcomeOf(likelyCause(days.clean(seed, louder, hides)));
    if (outcome.word === 'nothing-to-explain') continue;
    if (outcome.word === 'no-single-cause') count.none += 1;
    else if (outcome.word === 'noise') count.noise += 1;
    else {
      count.physical += 1;
      taken.set(outcome.word, (taken.get(outcome.word) ?? 0) + 1);
    }
  }
  print(
    `| ${words} | ${CLEAN_RUNS} | ${percent(count.physical, CLEAN_RUNS)} | ${percent(count.noise, CLEAN_RUNS)} | ${percent(count.none, CLEAN_RUNS)} | ${[...taken].map(([word, times]) => `${word} ${times}`).join(', ')} |`,
  );
}
print('', `Runs at each size: ${RUNS}; of each pair: ${PAIR_RUNS}.`);
