import { axesAt, degreeLengthsM, degreesOf } from '../ellipsoid.js';
import { sigmasHolding } from '../normal.js';
import { textOf } from '../../repository-files.js';
import type { Lesson, Worked } from '../worked-numbers.js';

/** The longitude that a session says base B1 sent. */
function sentLongitude(folder: string): number {
  return Number(/broadcast = \{.*?longitude_deg = ([\d.]+)/u.exec(textOf(`examples/${folder}/session.toml`))?.[1]);
}

/** Numbers of a method page, which has a test of its own. */
function ofMethod(page: string, pattern: RegExp): readonly number[] {
  return (pattern.exec(textOf(`docs/methods/${page}.md`)) ?? []).slice(1).map(Number);
}

export const BASE_COORDINATE: readonly Worked[] = [
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
    says: '2.7 × √((# mm/km · d)² + (# mm/m · Δh)²)',
    are: () => [
      ...ofMethod('uncertainty', /z_d [\d.]+ \/ ([\d.]+) \/ [\d.]+ mm\/km/u),
      ...ofMethod('uncertainty', /\(([\d.]+) mm\/m·Δh\)/u),
    ],
  },
];
