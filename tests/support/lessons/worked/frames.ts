import { axesAt, degreeLengthsM, dot, geocentric } from '../ellipsoid.js';
import type { Triple } from '../ellipsoid.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Worked } from '../worked-numbers.js';

/** Rotation of the Nubian plate in milliseconds of arc a year: ITRF2014-PMM, table 1. */
const OMEGA = [0.099, -0.614, 0.733] as const;
const ARC = Math.PI / 648000000;
const PLACE = [-31.5, 21.4] as const;
const YEARS = 2026.9 - 1994;

/** X of the base in kilometres, ω × X before and after it is in millimetres a year. */
function velocity(): { place: Triple; crossed: Triple; perYear: Triple } {
  const metres = geocentric(...PLACE, 1041.9);
  const place: Triple = [metres[0] / 1000, metres[1] / 1000, metres[2] / 1000];
  const [a, b, c] = OMEGA;
  const [x, y, z] = place;
  const crossed: Triple = [b * z - c * y, c * x - a * z, a * y - b * x];
  // Kilometres into millimetres.
  const perYear: Triple = [crossed[0] * ARC * 1e6, crossed[1] * ARC * 1e6, crossed[2] * ARC * 1e6];
  return { place, crossed, perYear };
}

function eastNorth(): readonly [number, number] {
  const { east, north } = axesAt(...PLACE);
  const { perYear } = velocity();
  return [dot(perYear, east), dot(perYear, north)];
}

/** What the models that add the drift of the sites give: computed with NumPy (tests/reference/plate-velocities.csv). */
function of2020(lesson: Lesson): readonly [number, number] {
  const row = lesson.rows('tests/reference/plate-velocities.csv').find((one) => one['case'] === 'nubia-2020');
  return [Number(row?.['east_mm_per_year']), Number(row?.['north_mm_per_year'])];
}

/** C-01 in the national frame. */
async function national(lesson: Lesson): Promise<readonly [number, number]> {
  const said = await lesson.printed(
    'pegbook transform examples/quillback-pan/control.csv --from EPSG:2049 --to EPSG:4148 -q',
  );
  const [, latitude, longitude] = /^C-01,([-\d.]+),([-\d.]+)/mu.exec(said) ?? [];
  return [Number(latitude), Number(longitude)];
}

/** From one place to another, millimetres to the east and to the north. */
function between(from: readonly number[], to: readonly number[]): readonly [number, number] {
  const [north, east] = degreeLengthsM(-31.5014);
  const [[phi = NaN, lambda = NaN], [phiTo = NaN, lambdaTo = NaN]] = [from, to];
  return [(lambdaTo - lambda) * east * 1000, (phiTo - phi) * north * 1000];
}

const links = async (lesson: Lesson): Promise<readonly (readonly [number, number])[]> => {
  const [start, of1994] = [await national(lesson), lesson.shown(/C-01,(-31.50145077\d),([\d.]+)/u)];
  const of2026 = lesson.shown(/C-01,([-\d.]+),([\d.]+)/u);
  return [between(start, of1994), between(of1994, of2026), between(start, of2026)];
};
const offM = async (lesson: Lesson): Promise<readonly number[]> => {
  const [, , together = [NaN, NaN]] = await links(lesson);
  return [Math.hypot(...together) / 1000];
};

export const FRAMES: readonly Worked[] = [
  given('That is row #° S, #° E', -PLACE[0], PLACE[1]),
  { says: 'For the Nubian plate ω = (#, −#, #) milliseconds', are: () => OMEGA },
  { says: 'One such is π/648000000 = # × 10⁻⁹ rad', are: () => [ARC * 1e9] },
  {
    says: 'At the base, #° S #° E, X = (#, #, −#) km',
    are: () => [-PLACE[0], PLACE[1], ...velocity().place],
  },
  {
    says: 'v_x = (−#)(−#) − # × # = # × # × 10⁻³ mm = # mm a year',
    are: () => {
      const { place, crossed, perYear } = velocity();
      return [OMEGA[1], place[2], OMEGA[2], place[1], crossed[0], ARC * 1e9, perYear[0]];
    },
  },
  {
    says: 'v_y = # × # − # × (−#) = # = #',
    are: () => {
      const { place, crossed, perYear } = velocity();
      return [OMEGA[2], place[0], OMEGA[0], place[2], crossed[1], perYear[1]];
    },
  },
  {
    says: 'v_z = # × # − (−#) × # = # = #',
    are: () => {
      const { place, crossed, perYear } = velocity();
      return [OMEGA[0], place[1], OMEGA[1], place[0], crossed[2], perYear[2]];
    },
  },
  { says: 'cos λ v_y = # mm a year', are: () => [eastNorth()[0]] },
  { says: '+ cos φ v_z = # mm a year', are: () => [eastNorth()[1]] },
  { says: '[plate motion], # and #.', are: eastNorth },
  {
    says: 'and has # and # there. In the # years from # to # it is # m to the east and # m to the north',
    are: (lesson) => {
      const own = of2020(lesson);
      return [...own, YEARS, 1994, 2026.9, ...own.map((perYear) => (perYear * YEARS) / 1000)];
    },
  },
  { says: 'a degree of latitude is # m and one of longitude # m', are: () => degreeLengthsM(-31.5014) },
  { says: 'C-01 is at −#, #', are: national },
  { says: '| ITRF91 to ITRF2020, at 1994.0 | −# | +# |', are: async (lesson) => (await links(lesson))[0] ?? [] },
  { says: '| the plate, # years | +# | +# |', are: async (lesson) => [YEARS, ...((await links(lesson))[1] ?? [])] },
  { says: '| together | +# | +# |', are: async (lesson) => (await links(lesson))[2] ?? [] },
  { says: 'as if it stood # m from where', are: offM },
  { says: 'ITRF of the day: # m north-east', are: offM },
  { says: 'to 5 mm in spacing, and is # m off in place', are: offM },
  given('agrees with the control list to # mm in spacing', 5),
  {
    says: 'differ from the single run, by # mm',
    are: ({ shown }) => {
      const [once = NaN] = shown(/C-03,(-31.676436372),/u);
      const [twice = NaN] = shown(/C-03,(-31.67643637[013-9]),/u);
      return [(once - twice) * degreeLengthsM(once)[0] * 1000];
    },
  },
  {
    says: 'in # years, with # × 10⁻⁹ for each, it is # × 10⁻⁷, over # km # mm',
    are: () => {
      const turn = Math.hypot(...OMEGA) * ARC * YEARS;
      return [YEARS, ARC * 1e9, turn * 1e7, 60, turn * 60e6];
    },
  },
];
