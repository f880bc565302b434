// False alarms of single stands: nothing is wrong with any of them.
import { counter } from '../counter.mjs';
import { rowsOf } from '../product.mjs';
import { stream } from '../random.mjs';
import { ORIGIN, fixesOf, markAt, randomPlace, sessionOf, setUp, siteAt, stand } from '../survey.mjs';
import { WORLD } from '../world.mjs';
import { rateTable } from '../tables.mjs';

const COUNTS = [2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 30, 60, 120, 300];
const QUICK_COUNTS = [2, 3, 5, 7, 12, 20, 60];
const NOISES = {
  white: { ...WORLD, slow: 0 },
  correlated: WORLD,
  third: { ...WORLD, tau: 1 / 3 },
  thrice: { ...WORLD, tau: 3 },
  tails: { ...WORLD, isHeavyTailed: true },
};
const STANDS_A_FILE = 100;
const IN_HEIGHT = 'one epoch off in height';
/** The same, of epochs that do not report their sigmas. */
const UNREPORTED = 'one epoch off, no sigmas reported';
const UNREPORTED_IN_HEIGHT = 'one epoch off in height, no sigmas reported';

/** Clean stands of one count; half of the files say what the receiver reports of each epoch, half do not. */
function cleanStands(count, noise) {
  return async (product, { seed, scale }) => {
    const wanted = Math.max(
      STANDS_A_FILE,
      Math.round((scale * (count <= 30 ? 2000 : 1000)) / STANDS_A_FILE) * STANDS_A_FILE,
    );
    const { counts, add } = counter();
    for (let file = 0; file * STANDS_A_FILE < wanted; file += 1) {
      const random = stream(seed, 'stands', count, noise, file);
      const base = setUp('B', markAt(ORIGIN, random), random);
      const stands = Array.from({ length: STANDS_A_FILE }, (_, i) =>
        stand(`P${i}`, siteAt(randomPlace(random, 500, 40_000), random), base, i * (count + 200), count),
      );
      product.write('session.toml', sessionOf([base]));
      const { stdout } = await product.run(
        ['reduce-points', '-', '--session', 'session.toml', '--quiet'],
        fixesOf(stands, random, { world: NOISES[noise], isReported: file % 2 === 0 }),
      );
      for (const row of rowsOf(stdout)) {
        if (row.verdict !== 'accepted') add('not accepted');
        if (row.epochs_rejected !== '0') add('screened');
        for (const reason of row.reasons.split(';')) if (reason !== '') add(reason);
      }
    }
    return { of: wanted, counts };
  };
}

const oneEpoch = (random, count) => {
  const wrong = random.index(count);
  return (i) => (i === wrong ? 1 : 0);
};

/** Mistakes within a stand: which epochs the offset is in, and how much of it. */
const WITHIN = {
  'one epoch off': oneEpoch,
  [IN_HEIGHT]: oneEpoch,
  [UNREPORTED]: oneEpoch,
  [UNREPORTED_IN_HEIGHT]: oneEpoch,
  'a step half-way': (_, count) => (i) => (i >= count / 2 ? 1 : 0),
  'a drift from first to last': (_, count) => (i) => i / (count - 1),
};
const WITHIN_COUNTS = [2, 3, 5, 10, 30];
const WITHIN_SIZES_M = [0.05, 0.1, 0.3, 2];
const FULL_WITHIN = 300;

/** Stands with a mistake within: found where an epoch is taken out or the stand is not accepted. */
function spoiltStands(what, count, size) {
  return async (product, { seed, scale }) => {
    const wanted = Math.max(20, Math.round(scale * FULL_WITHIN));
    const { counts, add } = counter();
    const random = stream(seed, 'within', what, count, size);
    const base = setUp('B', markAt(ORIGIN, random), random);
    const stands = Array.from({ length: wanted }, (_, i) => {
      const offset = (
        what === IN_HEIGHT || what === UNREPORTED_IN_HEIGHT ? [0, 0, random.sign()] : random.direction()
      ).map((part) => size * part);
      return stand(`P${i}`, siteAt(randomPlace(random, 500, 25_000), random), base, i * (count + 200), count, {
        offset,
        shape: WITHIN[what](random, count),
      });
    });
    product.write('session.toml', sessionOf([base]));
    const { stdout } = await product.run(
      ['reduce-points', '-', '--session', 'session.toml', '--quiet'],
      fixesOf(stands, random, { isReported: what !== UNREPORTED && what !== UNREPORTED_IN_HEIGHT }),
    );
    for (const row of rowsOf(stdout)) {
      if (row.verdict !== 'accepted') add('not accepted');
      if (row.verdict !== 'accepted' || row.epochs_rejected !== '0') add('found');
    }
    return { of: wanted, counts };
  };
}

const idOfWithin = (what, count, size) => `stands/within/${what}/${count}/${size}`;

export const part = {
  name: 'stands',
  jobs: ({ isQuick }) => [
    ...(isQuick ? QUICK_COUNTS : COUNTS).flatMap((count) =>
      Object.keys(NOISES).map((noise) => ({ id: `stands/${count}/${noise}`, run: cleanStands(count, noise) })),
    ),
    ...Object.keys(WITHIN).flatMap((what) =>
      (isQuick ? [2, 5, 30] : WITHIN_COUNTS).flatMap((count) =>
        (isQuick ? [0.1, 0.3] : WITHIN_SIZES_M).map((size) => ({
          id: idOfWithin(what, count, size),
          run: spoiltStands(what, count, size),
        })),
      ),
    ),
  ],
  text(results, before) {
    const table = (key) =>
      rateTable({
        head: [
          'epochs',
          'white noise',
          'slow error of the model',
          'correlation times a third',
          'three times',
          'long tails (Student, 4 degrees of freedom)',
        ],
        rows: COUNTS.filter((count) => results[`stands/${count}/white`]).map((count) => [
          String(count),
          ...Object.keys(NOISES).map((noise) => ({ id: `stands/${count}/${noise}`, key })),
        ]),
        results,
        before,
      });
    const within = rateTable({
      head: ['planted', 'epochs', ...WITHIN_SIZES_M.map((size) => `${size} m`)],
      rows: Object.keys(WITHIN).flatMap((what) =>
        WITHIN_COUNTS.filter((count) => WITHIN_SIZES_M.some((size) => results[idOfWithin(what, count, size)])).map(
          (count) => [
            what,
            String(count),
            ...WITHIN_SIZES_M.map((size) => ({ id: idOfWithin(what, count, size), key: 'found' })),
          ],
        ),
      ),
      results,
      before,
    });
    return `Clean stands (0.5 to 40 km, epochs a second apart) that are **not accepted**. Goal: 1 % at most, and 2 % where tails are long.\n\n${table('not accepted')}\nClean stands that lose an epoch or more to the screen. No goal was set; a lost epoch costs next to nothing.\n\n${table('screened')}\nStands with a mistake within them, of a size in a random direction in space where none is named: **found**, where an epoch is taken out or the stand is not accepted. Without this table a rule that never speaks would look best.\n\n${within}`;
  },
};
