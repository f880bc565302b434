import { textOf } from '../../repository-files.js';
import { RAD } from '../ellipsoid.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Worked } from '../worked-numbers.js';

const REDUCED =
  'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml --combine -q -o points.csv --force';

/** Grid, ellipsoid and ground length of the line, in metres, and the radius along it. */
function lengths({ shown }: Lesson): { grid: number; ellipsoid: number; ground: number; radius: number } {
  const [grid = NaN] = shown(/= d ([\d.]+) m, bearing/u);
  const [ellipsoid = NaN] = shown(/ s = ([\d.]+) m/u);
  const [ground = NaN] = shown(/ground = s \/ EF = ([\d.]+) m/u);
  const [radius = NaN] = shown(/ R = .* = ([\d.]+) m/u);
  return { grid, ellipsoid, ground, radius };
}

const ppm = (lesson: Lesson): number => {
  const { grid, ellipsoid } = lengths(lesson);
  return (grid / ellipsoid - 1) * 1e6;
};

/** What the factors at the two ends, and their mean, have more than one, in millionths. */
function endsPpm({ shown }: Lesson): readonly number[] {
  const [first = NaN, last = NaN] = shown(/k₁ = ([\d.]+); .* k₂ = ([\d.]+)/u);
  return [first, last, (first + last) / 2].map((factor) => (factor - 1) * 1e6);
}

export const LENGTHS: readonly Worked[] = [
  {
    says: 'QP-04 is # km away: #²/(',
    are: ({ shown }) => {
      const [y = Number.NaN] = shown(/Y₁ = -([\d.]+);/u);
      return [y / 1000, y / 1000];
    },
  },
  {
    says: '| on the grid | # | +# m, +# ppm |',
    are: (lesson) => {
      const { grid, ellipsoid } = lengths(lesson);
      return [grid, grid - ellipsoid, ppm(lesson)];
    },
  },
  {
    says: '| on the ground, at the mean height | # | +# m, +# ppm |',
    are: (lesson) => {
      const { ground, ellipsoid } = lengths(lesson);
      return [ground, ground - ellipsoid, (ground / ellipsoid - 1) * 1e6];
    },
  },
  { says: 'Over the line the average is # ppm', are: (lesson) => [ppm(lesson)] },
  {
    says: '(# + #)/2 = # ppm against # ppm:',
    are: (lesson) => [...endsPpm(lesson), ppm(lesson)],
  },
  {
    says: 'would be wrong by N/R, # ppm or # m.',
    are: async (lesson) => {
      await lesson.printed(REDUCED);
      const rows = lesson.rows('points.csv').filter((row) => ['QP-04', 'C-03'].includes(row['point_id'] ?? ''));
      const mean = rows.reduce((sum, row) => sum + Number(row['geoid_height_m']), 0) / rows.length;
      const { radius, ellipsoid } = lengths(lesson);
      return [(mean / radius) * 1e6, (mean / radius) * ellipsoid];
    },
  },
  {
    says: "differs from the straight line's by #″, which is # m at the far end",
    are: (lesson) => {
      const [arc = NaN] = lesson.shown(/= (\S+)″ at QP-04/u);
      return [arc, (arc / 3600) * RAD * lengths(lesson).grid];
    },
  },
];

export const SKY: readonly Worked[] = [
  given('Three satellites at the horizon, #° apart', 120),
  given('Raise the three to #°', 60),
  { says: '(e/2, n/2, #), plan', are: () => [Math.sin(60 * RAD)] },
  {
    says: '(13/4, #; #, 4), of 3 × # + 1 = #, with the determinant #, VDOP = √(4/#) = #',
    are: () => {
      const both = 3 * Math.sin(60 * RAD) + 1;
      const determinant = (13 / 4) * 4 - both * both;
      return [both, both, Math.sin(60 * RAD), both, determinant, determinant, Math.sqrt(4 / determinant)];
    },
  },
  {
    says: 'comes back to the same places in the sky after # h # min',
    are: ({ shown }) => {
      const [earlierS = Number.NaN] = shown(/comes back (\d+) s earlier each day/u);
      return [Math.floor(24 - earlierS / 3600), Math.floor((1440 - earlierS / 60) % 60)];
    },
  },
];

export const HEIGHTS: readonly Worked[] = [
  given('With L = # km two benchmarks # km apart', 20, 5),
  given('= 37 %, # km apart', 60),
  given('= 78 % of the signal, # km apart', 20),
  given('Two heights # km apart are both corrected by the surface with a sigma of # mm', 1, 10),
  { says: 'A plane is off by # mm', are: ({ shown }) => shown(/plane: left out (\S+) mm/u) },
  {
    says: 'the correction changes by # mm at most, its largest sigma lies between # and # mm',
    are: ({ shown }) => {
      const rows = ['C₀ x 0\\.5', 'C₀ x 2', 'L x 0\\.5', 'L x 2'].map((name) =>
        shown(new RegExp(`${name} +\\S+ +(\\S+) +(\\S+)`, 'u')),
      );
      const [changes, sigmas] = [0, 1].map((column) => rows.map((row) => row[column] ?? Number.NaN)) as [
        number[],
        number[],
      ];
      return [Math.max(...changes), Math.min(...sigmas), Math.max(...sigmas)];
    },
  },
  {
    says: 'The example [was made] with a slope of # mm/km to the east',
    are: () => [
      Number(/a tilt of ([\d.]+) mm\/km to the east/u.exec(textOf('examples/quillback-pan-heights/README.md'))?.[1]),
    ],
  },
  {
    says: 'has a sigma of # mm from the site alone (`site_sigma_height_m`), QH-4, # km outside, # mm',
    are: async ({ shown, printed }) => {
      const [near = Number.NaN] = shown(/QH-1,([\d.]+)/u);
      const [far = Number.NaN] = shown(/QH-4,([\d.]+)/u);
      await fitSurface(printed);
      const said = await printed(
        'pegbook transform examples/quillback-pan-heights/points.csv --site surface.json --extrapolate',
      );
      const outside = Number(/QH-4: the point is ([\d.]+) m outside/u.exec(said)?.[1]);
      return [1000 * near, outside / 1000, 1000 * far];
    },
  },
  {
    says: 'The surface fits the benchmarks to # mm. Why is a place between them not known to # mm?',
    are: async ({ printed, rows }) => {
      await fitSurface(printed);
      const left = rows('left.csv').filter((row) => row['role'] === 'fit');
      const squares = left.reduce((sum, row) => sum + (1000 * Number(row['residual_height_m'])) ** 2, 0);
      const rms = Math.sqrt(squares / left.length);
      return [rms, rms];
    },
  },
];

async function fitSurface(printed: Lesson['printed']): Promise<void> {
  await printed(
    'pegbook fit-site examples/quillback-pan-heights/points.csv --control examples/quillback-pan-heights/benchmarks.csv --system EPSG:2049 --vertical surface --residuals left.csv -o surface.json -q --force',
  );
}

export const THREE_HEIGHTS: readonly Worked[] = [
  {
    says: 'The geoid has a sigma of # mm',
    are: ({ shown }) => shown(/= geoid: ([\d.]+) mm, added to the height only/u, 'five-seconds.md'),
  },
];
