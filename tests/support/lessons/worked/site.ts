import { RAD } from '../ellipsoid.js';
import { sigmasHolding } from '../normal.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Row, Worked } from '../worked-numbers.js';

const CONTROL = 'examples/quillback-pan-site/control.csv';
const FAR = 'examples/lessons/far-control.csv';

/** The marks that are fitted, as complex numbers in kilometres from their mean, and the sum of their squares. */
function marks(
  lesson: Lesson,
  path: string,
): {
  at: (id: string) => readonly [number, number];
  square: number;
  far: readonly number[];
  of: (row?: Row) => readonly [number, number];
} {
  const all = lesson.rows(path);
  const fitted = all.filter((row) => row['role'] === 'fit');
  const mean = (name: string): number => fitted.reduce((sum, row) => sum + Number(row[name]), 0) / fitted.length;
  const [east, north] = [mean('easting_m'), mean('northing_m')];
  const of = (row?: Row): readonly [number, number] => [
    (Number(row?.['easting_m']) - east) / 1000,
    (Number(row?.['northing_m']) - north) / 1000,
  ];
  const far = fitted.map((row) => Math.hypot(...of(row)));
  const square = far.reduce((sum, one) => sum + one * one, 0);
  return { at: (id) => of(all.find((row) => row['point_id'] === id)), square, far, of };
}

/** What fitting with the wrong QS-31 and with the right one prints. */
async function farFits(lesson: Lesson): Promise<{ wrong: string; right: string; rightTest: number }> {
  const header = lesson.rows(FAR);
  const names = Object.keys(header[0] ?? {});
  const rows = header.map((row) => {
    const north = Number(row['northing_m']) - (row['point_id'] === 'QS-31' ? 0.1 : 0);
    return names.map((name) => (name === 'northing_m' ? north.toFixed(4) : row[name])).join(',');
  });
  lesson.write('right.csv', [names.join(','), ...rows, ''].join('\n'));
  const run = async (control: string): Promise<string> =>
    lesson.printed(
      `pegbook fit-site examples/quillback-pan-site/points.csv --control ${control} --system EPSG:2049 --site-axes easting_m,northing_m -o far.json --residuals far.csv --force`,
    );
  const right = await run('right.csv');
  const rightTest = Number(lesson.rows('far.csv').find((row) => row['point_id'] === 'QS-31')?.['baarda_north']);
  return { right, rightTest, wrong: await run(FAR) };
}

const seconds = (said: string): number => Number(/rotation +([\d.]+)°/u.exec(said)?.[1]) * 3600 - (12 * 60 + 23) * 60;
const scalePpm = (said: string): number => Number(/scale +([\d.]+)/u.exec(said)?.[1]) * 1e6;
const shownFar = async (lesson: Lesson): Promise<readonly number[]> => {
  const { right } = await farFits(lesson);
  return [Number(/QS-31 +\S+ +(\S+)/u.exec(right)?.[1]) * 1000];
};

/** The limit of a residual: a chance of 0.004 shared over those of the six marks and over plan and height of three kept out. */
const LIMIT = sigmasHolding(1 - 0.004 / (6 * 3 + 3 * 2));
const SIGMA_MM = Math.hypot(10, 4);

export const SITE: readonly Worked[] = [
  given('Of its error of # mm only', 100),
  given('does the site turn because of the # mm?', 100),
  given('An error of # mm instead of #', 60, 100),
  given('= 5.02 for # mm, so by 5.02 × 60/100 = 3.01 for # mm', 100, 60),
  {
    says: 'The six marks lie # to # m from their mean, and D² = # km². QS-4 is farthest: h = 1/6 + #²/# = # + # = #, redundancy 1 − # = #',
    are: (lesson) => {
      const { far, square } = marks(lesson, CONTROL);
      const [least, most] = [Math.min(...far), Math.max(...far)];
      const [level, own] = [1 / 6, most ** 2 / square];
      return [1000 * least, 1000 * most, square, most, square, level, own, level + own, level + own, 1 - level - own];
    },
  },
  {
    says: 'The northing of QS-31 is wrong by # m',
    are: (lesson) => [
      Math.abs(Number(lesson.rows(FAR).find((row) => row['point_id'] === 'QS-31')?.['northing_m']) - 9238.101),
    ],
  },
  {
    says: 'QS-31 lies # m from the mean, and D² = # km²: h = # + # = #. Of its error of 100 mm only # mm show',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const [far, level] = [Math.hypot(...at('QS-31')), 1 / 6];
      const own = far ** 2 / square;
      return [1000 * far, square, level, own, level + own, 100 * (1 - level - own)];
    },
  },
  {
    says: 'without the error it is +# mm, with it −#). The other # mm',
    are: async (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const [, wrong = Number.NaN] = lesson.shown(/QS-31 +(\S+) +(\S+)/u);
      return [...(await shownFar(lesson)), 1000 * wrong, 100 * (1 / 6 + Math.hypot(...at('QS-31')) ** 2 / square)];
    },
  },
  {
    says: 'at QS-31 # √# = # mm, at QS-5 # √# = # mm. So −27.1 mm',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      return ['QS-31', 'QS-5'].flatMap((id) => {
        const left = 1 - 1 / 6 - Math.hypot(...at(id)) ** 2 / square;
        return [SIGMA_MM, left, SIGMA_MM * Math.sqrt(left)];
      });
    },
  },
  {
    says: 'and # mm only #/# = #.',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const [north = Number.NaN] = lesson.shown(/QS-5 +0\.0218 +(\S+)/u);
      const sigma = SIGMA_MM * Math.sqrt(1 - 1 / 6 - Math.hypot(...at('QS-5')) ** 2 / square);
      return [1000 * north, 1000 * north, sigma, (1000 * north) / sigma];
    },
  },
  {
    says: 'The test moves by # + # = #',
    are: async (lesson) => {
      const [test = Number.NaN] = lesson.shown(/Baarda's test gives (\S+)\. /u);
      const { rightTest } = await farFits(lesson);
      return [test, rightTest, test + Math.round(100 * rightTest) / 100];
    },
  },
  {
    says: '∇ / D²: # km × # m / # km² = # mm/km',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const far = Math.hypot(...at('QS-31'));
      return [far, 0.1, square, (far * 100) / square];
    },
  },
  {
    says: 'the turn went from 12°23′#″ to 12°24′#″, #″ or # mm/km, the scale by # ppm',
    are: async (lesson) => {
      const { right, wrong } = await farFits(lesson);
      const turn = seconds(wrong) - seconds(right);
      return [
        seconds(right),
        seconds(wrong) - 60,
        turn,
        ((turn * RAD) / 3600) * 1e6,
        scalePpm(wrong) - scalePpm(right),
      ];
    },
  },
  {
    says: 'below the limit of # (a chance of # % shared over the # residuals and the # differences of points kept out)',
    are: () => [LIMIT, 0.4, 6 * 3, 3 * 2],
  },
  {
    says: 'at QS-3 would be off by some # mm in north',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const [there, wrong] = [at('QS-3'), at('QS-31')];
      return [60 * (1 / 6 + (there[0] * wrong[0] + there[1] * wrong[1]) / square)];
    },
  },
  {
    says: 'says it beforehand: (# + #) × #/√# = # mm at QS-31, # to # mm at the others',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      const move = sigmasHolding(0.6);
      const [far = NaN, ...others] = ['QS-31', 'QS-1', 'QS-4', 'QS-5', 'QS-6', 'QS-7'].map(
        (id) => ((LIMIT + move) * SIGMA_MM) / Math.sqrt(1 - 1 / 6 - Math.hypot(...at(id)) ** 2 / square),
      );
      const left = 1 - 1 / 6 - Math.hypot(...at('QS-31')) ** 2 / square;
      return [LIMIT, move, SIGMA_MM, left, far, Math.min(...others), Math.max(...others)];
    },
  },
  {
    says: 'two at the same far place have h = # each',
    are: (lesson) => {
      const { at, square } = marks(lesson, FAR);
      // A second mark moves the mean of six by a seventh of its distance.
      const far = Math.hypot(...at('QS-31'));
      return [1 / 7 + ((6 / 7) * far) ** 2 / (square + (6 / 7) * far ** 2)];
    },
  },
  {
    says: 'How good is the first site at QS-31, # m from its mean',
    are: (lesson) => {
      const { of } = marks(lesson, CONTROL);
      const far = lesson.rows(FAR).find((row) => row['point_id'] === 'QS-31');
      return [1000 * Math.hypot(...of(far))];
    },
  },
  {
    says: '× √(1/6 + #²/#) = # mm',
    are: (lesson) => {
      const { of, square } = marks(lesson, CONTROL);
      const far = Math.hypot(...of(lesson.rows(FAR).find((row) => row['point_id'] === 'QS-31')));
      return [far, square, SIGMA_MM * Math.sqrt(1 / 6 + far ** 2 / square)];
    },
  },
  {
    says: 'The residuals are all below # mm',
    are: ({ shown }) => [Math.ceil(1000 * Math.abs(shown(/QS-3 +(\S+)/u)[0] ?? Number.NaN))],
  },
];
