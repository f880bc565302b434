import { axesAt, degreeLengthsM, dot } from '../ellipsoid.js';
import type { Triple } from '../ellipsoid.js';
import { sigmasHolding } from '../normal.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Worked } from '../worked-numbers.js';

const FOLDER = 'examples/quillback-pan-network';
const CONTROL = `${FOLDER}/control.csv`;
/** The move of a normal number that passes a limit four times in five. */
const MOVE = sigmasHolding(0.6);
const LIMIT = sigmasHolding(0.999);

/** Latitude and longitude of a control point. */
function placeOf(lesson: Lesson, path: string, id: string): readonly [number, number] {
  const row = lesson.rows(path).find((one) => one['point_id'] === id);
  return [Number(row?.['latitude_deg']), Number(row?.['longitude_deg'])];
}

/** What was added to a vector in the file with blunders. */
function planted(lesson: Lesson, from: string, to: string): Triple {
  const of = (file: string): Triple => {
    const row = lesson.rows(`${FOLDER}/${file}`).find((one) => one['from_id'] === from && one['to_id'] === to);
    return [Number(row?.['dx_m']), Number(row?.['dy_m']), Number(row?.['dz_m'])];
  };
  const [clean, wrong] = [of('vectors.csv'), of('vectors-with-blunders.csv')];
  return [wrong[0] - clean[0], wrong[1] - clean[1], wrong[2] - clean[2]];
}

/** How far the blunder moves QN-7 to the east, between two runs. */
async function moved(lesson: Lesson): Promise<number> {
  const run = async (vectors: string, control: string): Promise<readonly [number, number]> => {
    await lesson.printed(
      `pegbook adjust-network --vectors ${FOLDER}/${vectors}.csv --control ${FOLDER}/${control}.csv --exclude-outliers -q -o adjusted.csv --force`,
    );
    return placeOf(lesson, 'adjusted.csv', 'QN-7');
  };
  const clean = await run('vectors', 'control');
  const wrong = await run('vectors-with-blunders', 'control-typed-wrongly');
  return (wrong[1] - clean[1]) * degreeLengthsM(clean[0])[1];
}

/** The blunder that is found at a redundancy, and what of it goes into the coordinate, of a sigma of 5 mm. */
function hidden(redundancy: number): readonly number[] {
  const bias = ((LIMIT + MOVE) * 5) / Math.sqrt(redundancy);
  return [redundancy, bias, (1 - redundancy) * bias];
}

/** Up at QN-1, the planted vector along it, and what the others say of QN-1 to QN-4, in millimetres. */
function blunder(lesson: Lesson): readonly number[] {
  const place = placeOf(lesson, CONTROL, 'QN-1');
  const { up } = axesAt(...place);
  const [x = NaN, y = NaN, z = NaN] = lesson.shown(
    /QN-1 to QN-4 does not agree with the others: they say (-?[\d.]+) mm, (-?[\d.]+) mm, (-?[\d.]+) mm/u,
  );
  const along = dot([x, y, z], up);
  const others = ['QN-1 to QN-6', 'QN-3 to QN-4', 'QN-4 to QN-6'].map((name) =>
    Math.hypot(...lesson.shown(new RegExp(`${name} does .* say (-?[\\d.]+) mm, (-?[\\d.]+) mm, (-?[\\d.]+) mm`, 'u'))),
  );
  const height = Math.round(dot(planted(lesson, 'QN-1', 'QN-4'), up) * 1000) / 1000;
  return [
    ...[-place[0], place[1], ...up, height, ...up.map((one) => one * 1000 * height), x, y, z, along],
    ...[-along - 1000 * height, Math.min(...others), Math.max(...others)],
  ];
}

export const NETWORK: readonly Worked[] = [
  {
    says: "the geoid's # mm stand between",
    are: ({ shown }) => shown(/= geoid: ([\d.]+) mm, added to the height only/u, 'five-seconds.md'),
  },
  {
    says: 'the vector from QN-1 to QN-4 | # m up',
    are: (lesson) => [dot(planted(lesson, 'QN-1', 'QN-4'), axesAt(...placeOf(lesson, CONTROL, 'QN-1')).up)],
  },
  {
    says: 'the only one to QN-7 | # m east',
    are: (lesson) => [dot(planted(lesson, 'QN-2', 'QN-7'), axesAt(...placeOf(lesson, CONTROL, 'QN-2')).east)],
  },
  {
    says: 'the latitude of control QN-2 | #°, # m',
    are: (lesson) => {
      const [right] = placeOf(lesson, CONTROL, 'QN-2');
      const [typed] = placeOf(lesson, `${FOLDER}/control-typed-wrongly.csv`, 'QN-2');
      return [typed - right, (typed - right) * degreeLengthsM(right)[0]];
    },
  },
  { says: 'QN-7 moved by # m to the east', are: async (lesson) => [await moved(lesson)] },
  {
    says: 'has to be k + #, because a normal number lies above −# with 80 %: ∇₀ = (k + #)',
    are: () => [MOVE, -MOVE, MOVE],
  },
  given('have redundancies of # and #, and sigmas of # mm. Which residual of # mm', 0.2, 0.8, 5, 8),
  { says: 'With σ = # mm and a level of 0.1 %, where k = # and k + # = #:', are: () => [5, LIMIT, MOVE, LIMIT + MOVE] },
  ...[0.9, 0.5, 0.1].map((redundancy) => ({
    says: `| # | # mm | # mm | ${redundancy === 0.1 ? '| 0 |' : `| ${redundancy === 0.9 ? '0.5' : '0.1'} |`}`,
    are: () => hidden(redundancy),
  })),
  { says: 'is 1 − #^(1/12) = # % each; χ²', are: () => [1 - 1 / 100, 100 * (1 - (1 - 1 / 100) ** (1 / 12))] },
  {
    says:
      'Up at QN-1 (#° S, #° E) is (cos φ cos λ, cos φ sin λ, sin φ) = (#, #, −#). A vector to a station whose antenna was read # m too high ' +
      'is too long by (#, #, −#) mm. The others say −#, −#, +# of it: −# mm along up, the blunder and # mm of noise. Three more vectors are suspected, of # to # mm',
    are: blunder,
  },
  {
    says: 'Four vectors say −#, −#, −# and −# mm of X; their weighted mean, Y and Z with it, is −# mm',
    are: async (lesson) => {
      const said = await lesson.printed(
        `pegbook adjust-network --vectors ${FOLDER}/vectors.csv --control ${CONTROL} --explain QN-4 -q`,
      );
      return ['gX₁', 'gX₂', 'gX₃', 'gX₄', 'δX'].map((name) =>
        Number(
          new RegExp(`^ +${name} = .* = (-[\\d.]+) mm(?:;|$)`, 'mu').exec(said.replaceAll(/; g[YZ].*/gu, ''))?.[1],
        ),
      );
    },
  },
];
