import { axesAt, degreeLengthsM, degreesOf } from '../ellipsoid.js';
import { sigmasHolding } from '../normal.js';
import { textOf } from '../../repository-files.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Row, Worked } from '../worked-numbers.js';

/** The longitude that a session says base B1 sent. */
function sentLongitude(folder: string): number {
  return Number(/broadcast = \{.*?longitude_deg = ([\d.]+)/u.exec(textOf(`examples/${folder}/session.toml`))?.[1]);
}

/** Numbers of a method page, which has a test of its own. */
function ofMethod(page: string, pattern: RegExp): readonly number[] {
  return (pattern.exec(textOf(`docs/methods/${page}.md`)) ?? []).slice(1).map(Number);
}

export const ANTENNA: readonly Worked[] = [
  given('of 2 m it is 2000 × sin #° = ', 0.5),
  given('and 2000 × (1 − cos #°)', 0.5),
];

export const BASE_COORDINATE: readonly Worked[] = [
  given('at # km the two differ by', 60),
  { says: 'east, north and up # km away', are: ({ shown }) => shown(/ d = ([\d.]+) m;/u).map((one) => one / 1000) },
  {
    says: '2 m × # km / # km / cos #° = # mm',
    are: ({ shown }) => {
      const [d = NaN, r = NaN, phi = NaN] = shown(/ d = ([\d.]+) m; R = ([\d.]+) m; φ_p = -([\d.]+)°/u);
      return [d / 1000, r / 1000, phi, (2000 * d) / (r * Math.cos((phi * Math.PI) / 180))];
    },
  },
  {
    says: 'by up to # mm for each kilometre and each metre of base error, one sigma',
    are: () => ofMethod('base-correction', /\| in height \| ([\d.]+) \|/u),
  },
  {
    says: 'beside the # mm of circle at C-03, # km away',
    are: async ({ printed, rows }) => {
      await printed(
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml -q -o points.csv',
      );
      const row = rows('points.csv').find((one) => one['point_id'] === 'C-03');
      return [Number(row?.['circle_95_m']) * 1000, Number(row?.['baseline_m']) / 1000];
    },
  },
];

export const STREAM: readonly Worked[] = [
  {
    says: 'with φ = −#° and λ = #°: up = (#, #, −#). # m of it are (#, #, −#)',
    are: ({ shown }) => {
      const [x = NaN, y = NaN, z = NaN] = shown(/antenna reference point +X (\S+) +Y (\S+) +Z (\S+)/u);
      const [heightM = NaN] = shown(/mark, ([\d.]+) m below/u);
      const [phi, lambda] = degreesOf([x, y, z]);
      const { up } = axesAt(phi, lambda);
      return [phi, lambda, ...up, heightM, ...up.map((one) => one * heightM)];
    },
  },
  {
    says: 'in the session, by #°. One degree of longitude is # m here, so # × # = # m',
    are: ({ shown }) => {
      const wrong = sentLongitude('quillback-pan-link') - sentLongitude('quillback-pan');
      const [x = NaN, y = NaN, z = NaN] = shown(/antenna reference point +X (\S+) +Y (\S+) +Z (\S+)/u);
      const degreeM = degreeLengthsM(degreesOf([x, y, z])[0])[1];
      return [wrong, degreeM, wrong, degreeM, wrong * degreeM];
    },
  },
];

const HOURLY = 'pegbook inspect-corrections examples/quillback-pan-link/base.rtcm3';

/** The seconds between messages of a type, over the 4200 s of the recording without the 95 s of its gap. */
async function intervalS({ printed }: Lesson, type: number): Promise<number> {
  return (4200 - 95) / Number(new RegExp(`^ +1 +${type} +(\\d+) `, 'mu').exec(await printed(HOURLY))?.[1]);
}

/** The ages of the corrections of the fixes that are fixed; of one epoch where its time is given. */
function agesS({ rows }: Lesson, time = ''): readonly number[] {
  return rows('examples/quillback-pan-link/fixes.csv')
    .filter((row) => row['solution'] === 'fixed' && row['epoch_utc']?.includes(time) === true)
    .map((row) => Number(row['correction_age_s']));
}

const OFTEN: readonly (readonly [after: string, type: number])[] = [
  ['stands above the mark | # s |', 1006],
  ['what the base observed of GPS and of GLONASS | # s |', 1074],
  ['which differ from make to make | # s |', 1230],
  ['names of antenna and receiver | # s |', 1033],
  ['which messages to expect | # s |', 1013],
];

export const LINK: readonly Worked[] = [
  given('All ages are below # s', 2),
  { says: 'and the limit of # s are common practice', are: ({ shown }) => shown(/above ([\d.]+) s \d+ epochs/u) },
  ...OFTEN.map(([says, type]) => ({ says, are: async (lesson: Lesson) => [await intervalS(lesson, type)] })),
  {
    says: 'goes on calling itself fixed until # s, where it would be # mm',
    are: (lesson) => {
      const most = Math.max(...agesS(lesson));
      // A millimetre for each second, by the planning model of the page.
      return [most, most];
    },
  },
  { says: 'the fix of 07:22:06 was # s old', are: (lesson) => agesS(lesson, 'T07:22:06Z') },
];

/** σ_near in millimetres and g in millimetres a kilometre, of what the page prints of PL-08. */
function errorModel({ shown }: Lesson): { parts: readonly number[]; near: number; g: number } {
  const parts = [/slow_E = (\S+) mm/u, /pole_E = (\S+) mm/u, /base_E = (\S+) mm/u].flatMap((one) => shown(one));
  const [grow = Number.NaN] = shown(/grow_E = (\S+) mm/u);
  const [distanceM = Number.NaN] = shown(/= distance (\S+) m/u);
  return { parts, near: Math.hypot(...parts), g: grow / (distanceM / 1000) };
}

/** One sigma of a tolerance in plan, what is left of it for the distance, and the range. */
function rangeOf(lesson: Lesson, toleranceMm: number): { sigma: number; left: number; km: number } {
  const { near, g } = errorModel(lesson);
  const sigma = toleranceMm / Math.sqrt(-2 * Math.log(0.05));
  const left = Math.sqrt(sigma ** 2 - near ** 2);
  return { sigma, left, km: left / g };
}

function planned(lesson: Lesson, id: string): Row {
  return lesson.rows('examples/quillback-pan-plan/points.csv').find((row) => row['point_id'] === id) ?? {}; // NaN follows.
}

export const SITING: readonly Worked[] = [
  {
    says: 'K is # in plan, # in height',
    are: () => [Math.sqrt(-2 * Math.log(0.05)), sigmasHolding(0.95)],
  },
  {
    says: 'The kopje is #, nearer to the best',
    are: async ({ printed }) => {
      const said = await printed(
        'pegbook plan-baseline examples/quillback-pan-plan/points.csv --system EPSG:2049 --candidates examples/quillback-pan-plan/candidates.csv --limit-horizontal 0.05 --limit-vertical 0.10 --pole-length 2 --base-sigma 0.01,0.02 -o ranked.csv',
      );
      return [Number(/1\. kopje: ([\d.]+) at/u.exec(said)?.[1])];
    },
  },
  {
    says: 'part in height is # × √((# mm/km · d)² + (# mm/m · Δh)²)',
    are: () => [
      ...ofMethod('uncertainty', /\| ([\d.]+)·√\(\(z_d/u),
      ...ofMethod('uncertainty', /z_d [\d.]+ \/ ([\d.]+) \/ [\d.]+ mm\/km/u),
      ...ofMethod('uncertainty', /\(([\d.]+) mm\/m·Δh\)/u),
    ],
  },
  {
    says: 'In plan σ_near = √(#² + #² + #²) = # mm',
    are: (lesson) => [...errorModel(lesson).parts, errorModel(lesson).near],
  },
  {
    says: 'The base of # mm costs as much as 10/# = # km of distance',
    are: (lesson) => {
      const { parts, g } = errorModel(lesson);
      const [, , base = Number.NaN] = parts;
      return [base, g, base / g];
    },
  },
  { says: 'are g = # mm/km', are: (lesson) => [errorModel(lesson).g] },
  {
    says: 'd_max = √(#² − #²)/# = #/# = # km',
    are: (lesson) => {
      const [{ near, g }, { sigma, left, km }] = [errorModel(lesson), rangeOf(lesson, 50)];
      return [sigma, near, g, left, g, km];
    },
  },
  {
    says: 'of # mm, have a range of √(#² − #²)/# = # km, where 40/# = #',
    are: (lesson) => {
      const [{ near, g }, { sigma, km }] = [errorModel(lesson), rangeOf(lesson, 40)];
      return [40, sigma, near, g, km, 40 / sigma, sigma];
    },
  },
  {
    says: '√(#² − #²)/# = # km. σ_near takes its share',
    are: (lesson) => {
      const [{ near, g }, { sigma, km }] = [errorModel(lesson), rangeOf(lesson, 100)];
      return [sigma, near, g, km];
    },
  },
  {
    says: 'The two lie # km apart',
    are: (lesson) => {
      const [one, other] = [planned(lesson, 'PL-06'), planned(lesson, 'PL-08')];
      // On the grid, which is a hundredth of a kilometre off.
      return [Math.hypot(...['westing_m', 'southing_m'].map((name) => Number(one[name]) - Number(other[name]))) / 1000];
    },
  },
  {
    says: 'The kopje lies # m above PL-01',
    are: (lesson) => {
      const kopje = lesson
        .rows('examples/quillback-pan-plan/candidates.csv')
        .find((row) => row['point_id'] === 'kopje');
      return [Number(kopje?.['ellipsoidal_height_m']) - Number(planned(lesson, 'PL-01')['ellipsoidal_height_m'])];
    },
  },
];
