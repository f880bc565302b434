// Points measured more than once, nothing wrong or one planted mistake; and set-ups that are told apart by what they are.
import { counter } from '../counter.mjs';
import { rowsOf } from '../product.mjs';
import { stream } from '../random.mjs';
import { ORIGIN, fixesOf, markAt, randomPlace, sessionOf, setUp, siteAt, stand } from '../survey.mjs';
import { atmosphereOf } from '../world.mjs';
import { rateTable } from '../tables.mjs';

const POINTS = 20;
const STANDS = [2, 3, 5, 8];
const EPOCHS = 10;
const SLOT_S = 330;
const SIZES_M = [0.06, 0.12, 0.2, 0.4];

/** How the set-ups of a day come about: a function of the round (0, 1, …) to a set-up. */
const SET_UPS = {
  'one set-up': (random) => {
    const base = setUp('B', markAt(ORIGIN, random), random);
    return { bases: [base], of: () => base };
  },
  'one name, two marks': (random, roundS) => twoSetUps(random, roundS, ['B1', 'B1'], false),
  'two names, two marks': (random, roundS) => twoSetUps(random, roundS, ['B1', 'B2'], false),
  'one mark set up twice, one name': (random, roundS) => twoSetUps(random, roundS, ['B1', 'B1'], true),
  'one mark set up twice, two names': (random, roundS) => twoSetUps(random, roundS, ['B1', 'B2'], true),
};

function twoSetUps(random, roundS, names, isSameMark) {
  const near = () => randomPlace(random, 100, 3000, 30);
  const first = markAt(near(), random);
  const second = isSameMark ? first : markAt(near(), random);
  const bases = [first, second].map((mark, i) =>
    setUp(names[i], mark, random, {
      fromS: i === 0 ? 0 : roundS,
      toS: i === 0 ? roundS - 1 : 20 * roundS,
      antennaM: i === 0 ? 1.6 : 1.532,
    }),
  );
  return { bases, of: (round) => bases[Math.min(round, 1)] };
}

/** A day of 20 points, each measured `times` in as many rounds. */
function roundsOf(random, times, kind, mistake) {
  const roundS = POINTS * SLOT_S + 600;
  const { bases, of } = SET_UPS[kind](random, roundS);
  const sites = Array.from({ length: POINTS }, () => siteAt(randomPlace(random, 1000, 25_000), random));
  const stands = [];
  for (let round = 0; round < times; round += 1) {
    sites.forEach((site, i) => stands.push(stand(`P${i}`, site, of(round), round * roundS + i * SLOT_S, EPOCHS)));
  }
  if (mistake > 0) {
    const [e, n, u] = random.direction();
    const wrong = stands[random.index(times) * POINTS];
    wrong.offset = [mistake * e, mistake * n, mistake * u];
  }
  return {
    bases,
    stands,
    wrongOccupation:
      mistake > 0
        ? String(1 + Math.floor(stands.findIndex(({ offset }) => offset.some((value) => value !== 0)) / POINTS))
        : null,
  };
}

/** Days, reduced and checked: points that are not joined and accepted, days that do not end with 0. */
function repeated(times, kind, mistake, full) {
  return async (product, { seed, scale }) => {
    const days = Math.max(4, Math.round(scale * full));
    const { counts, add } = counter();
    for (let day = 0; day < days; day += 1) {
      const random = stream(seed, 'repeats', times, kind, mistake, day);
      const { bases, stands, wrongOccupation } = roundsOf(random, times, kind, mistake);
      const air = atmosphereOf(random);
      product.write('session.toml', sessionOf(bases));
      const fixes = fixesOf(stands, random, { air });
      const plain = await product.run(['reduce-points', '-', '--session', 'session.toml', '--quiet'], fixes);
      const combined = await product.run(
        ['reduce-points', '-', '--session', 'session.toml', '--combine', '--quiet'],
        fixes,
      );
      product.write('points.csv', plain.stdout);
      const check = await product.run([
        'check-tolerances',
        'points.csv',
        '--session',
        'session.toml',
        '--repeats',
        '--format',
        'json',
        '--quiet',
      ]);
      add('reduce 0', plain.exit === 0 ? 1 : 0);
      add('combine 0', combined.exit === 0 ? 1 : 0);
      add('check 0', check.exit === 0 ? 1 : 0);
      judgePoints(rowsOf(combined.stdout), wrongOccupation, add);
      if (wrongOccupation !== null) {
        if (rowsOf(plain.stdout).some((row) => row.point_id === 'P0' && row.verdict !== 'accepted'))
          add('marked without --combine');
        if (plain.exit !== 0) add('1 without --combine');
        const said = JSON.parse(check.stdout).repeats.find(({ point_id: id }) => id === 'P0');
        if (said?.occupation_alone === wrongOccupation) add('odd one named');
        else if (typeof said?.occupation_alone === 'string') add('another one named');
      }
    }
    return { of: days, counts: { ...counts, points: days * POINTS } };
  };
}

function judgePoints(rows, wrongOccupation, add) {
  const points = new Map();
  for (const row of rows) points.set(row.point_id, [...(points.get(row.point_id) ?? []), row]);
  for (const [id, its] of points) {
    const isWhole = its.length === 1 && its[0].verdict === 'accepted';
    if (wrongOccupation !== null && id === 'P0') add('found', isWhole ? 0 : 1);
    else add('points not joined', isWhole ? 0 : 1);
  }
}

export const part = {
  name: 'repeats',
  jobs: ({ isQuick }) => [
    ...(isQuick ? [2, 5] : STANDS).map((times) => ({
      id: `repeats/${times}`,
      run: repeated(times, 'one set-up', 0, times < 5 ? 500 : 250),
    })),
    ...Object.keys(SET_UPS)
      .slice(1, isQuick ? 3 : undefined)
      .map((kind) => ({ id: `repeats/${kind}`, run: repeated(2, kind, 0, 250) })),
    ...(isQuick ? [2] : [2, 3]).flatMap((times) =>
      (isQuick ? [0.2] : SIZES_M).map((size) => ({
        id: `repeats/${times}/wrong/${size}`,
        run: repeated(times, 'one set-up', size, 100),
      })),
    ),
  ],
  text(results, before) {
    const row = (label, id) => [
      label,
      { id, key: 'points not joined', of: 'points' },
      { id, key: 'reduce 0' },
      { id, key: 'combine 0' },
      { id, key: 'check 0' },
    ];
    const head = ['', 'points not joined', '`reduce-points` 0', '`--combine` 0', '`--repeats` 0'];
    const has = (id) => results[id] !== undefined;
    const clean = rateTable({
      head: ['stands a point', ...head.slice(1)],
      rows: STANDS.map((times) => row(String(times), `repeats/${times}`)).filter(([, { id }]) => has(id)),
      results,
      before,
    });
    const setUps = rateTable({
      head: ['two stands a point, from', ...head.slice(1)],
      rows: Object.keys(SET_UPS)
        .slice(1)
        .map((kind) => row(kind, `repeats/${kind}`))
        .filter(([, { id }]) => has(id)),
      results,
      before,
    });
    const wrong = rateTable({
      head: [
        'stands a point',
        'size',
        'found with `--combine`',
        'without: ends with 1',
        'without: marked in its rows',
        'odd one named',
        'another named',
      ],
      rows: [2, 3]
        .flatMap((times) =>
          SIZES_M.map((size) => [
            String(times),
            `${size} m`,
            ...['found', '1 without --combine', 'marked without --combine', 'odd one named', 'another one named'].map(
              (key) => ({ id: `repeats/${times}/wrong/${size}`, key }),
            ),
          ]),
        )
        .filter(([, , { id }]) => has(id)),
      results,
      before,
    });
    return `Clean days of 20 points, each stood on for 10 epochs in rounds two hours apart. Goal: days that end with 0, 97 % at least.\n\n${clean}\n${setUps}\nOne wrong integer in one stand of one point of the 20.\n\n${wrong}`;
  },
};
