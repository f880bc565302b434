// Sites fitted to control: clean ones, one mistake among the control, and what the fitted site says of points within it.
import { counter } from '../counter.mjs';
import { placeFrom, transverseMercator } from '../earth.mjs';
import { rowsOf } from '../product.mjs';
import { stream } from '../random.mjs';
import { BASE_SIGMAS_M, ORIGIN, markAt, sessionOf, setUp } from '../survey.mjs';
import { rateTable } from '../tables.mjs';

const MERIDIAN = 21;
const MEASURED_SIGMAS_M = [0.008, 0.015];
const CONTROL_SIGMAS_M = [0.004, 0.004];
const MEAN_RADIUS_M = 6_368_000;
const INSIDE = 4;

/**
 * A site of 6 to 10 control points within 1 to 3 km, whose lengths are grid or ground lengths, turned or not.
 * `isFromBase`: a base's error is common to all that was measured, and the stated sigmas hold it; `isExact`: no errors at all.
 */
function siteOf(random, { isFromBase, isExact }) {
  const middle = placeFrom(ORIGIN, random.between(0, 2 * Math.PI), random.between(0, 8000), ORIGIN[2]);
  const reach = random.between(1000, 3000);
  const count = 6 + random.index(5);
  const places = Array.from({ length: count + INSIDE }, (_, i) => {
    const azimuth = i < count ? (2 * Math.PI * (i + 0.6 * random.next())) / count : random.between(0, 2 * Math.PI);
    return placeFrom(
      middle,
      azimuth,
      reach * (i < count ? random.between(0.6, 1) : random.between(0, 0.4)),
      middle[2] + random.between(-40, 40),
    );
  });
  const [east0, north0] = transverseMercator(middle, MERIDIAN);
  const isGround = random.next() < 0.5;
  const turn = isGround ? random.between(-0.3, 0.3) : 0;
  const factor = (1 + east0 ** 2 / (2 * MEAN_RADIUS_M ** 2)) * (MEAN_RADIUS_M / (MEAN_RADIUS_M + middle[2]));
  const scale = isGround ? 1 / factor : 1;
  const common = isFromBase
    ? [BASE_SIGMAS_M[0] * random.normal(), BASE_SIGMAS_M[0] * random.normal(), BASE_SIGMAS_M[1] * random.normal()]
    : [0, 0, 0];
  const error = ([h, v]) => (isExact ? [0, 0, 0] : [h * random.normal(), h * random.normal(), v * random.normal()]);
  const points = places.map((place, i) => {
    const [east, north] = transverseMercator(place, MERIDIAN);
    const [x, y] = [east - east0, north - north0];
    const truth = [
      5000 + scale * (x * Math.cos(turn) - y * Math.sin(turn)),
      8000 + scale * (x * Math.sin(turn) + y * Math.cos(turn)),
      place[2] - 20 + 2e-6 * x,
    ];
    const measured = [east, north, place[2]].map(
      (value, k) => value + (i < count ? error(MEASURED_SIGMAS_M)[k] + common[k] : 0),
    );
    return {
      id: `S${i}`,
      isControl: i < count,
      truth,
      measured,
      listed: truth.map((value, k) => value + error(CONTROL_SIGMAS_M)[k]),
    };
  });
  return { points, control: points.filter(({ isControl }) => isControl) };
}

const statedSigmas = (isFromBase) =>
  MEASURED_SIGMAS_M.map((sigma, i) => (isFromBase ? Math.hypot(sigma, BASE_SIGMAS_M[i]) : sigma));

/** Files of a site, and the words of the command that fits it. */
function written(product, { points, control }, kind, random) {
  const { hasSigmas = true, isFromBase = false } = KINDS[kind];
  const [h, v] = statedSigmas(isFromBase);
  const sigmas = hasSigmas ? `,${h.toFixed(4)},${h.toFixed(4)},${v.toFixed(4)}` : '';
  const head = `point_id,westing_m,southing_m,ellipsoidal_height_m${hasSigmas ? ',sigma_east_m,sigma_north_m,sigma_up_m' : ''}`;
  const row = ({ id, measured: [e, n, u] }) => `${id},${(-e).toFixed(4)},${(-n).toFixed(4)},${u.toFixed(4)}`;
  product.write('measured.csv', `${head},base_id\n${control.map((point) => `${row(point)}${sigmas},B\n`).join('')}`);
  product.write(
    'inside.csv',
    `point_id,westing_m,southing_m,ellipsoidal_height_m\n${points
      .filter(({ isControl }) => !isControl)
      .map((point) => `${row(point)}\n`)
      .join('')}`,
  );
  const controlSigmas = hasSigmas ? `,${CONTROL_SIGMAS_M.join(',')}` : '';
  product.write(
    'control.csv',
    `point_id,easting_m,northing_m,ellipsoidal_height_m${hasSigmas ? ',sigma_horizontal_m,sigma_vertical_m' : ''},role\n${control.map(({ id, listed: [e, n, u] }) => `${id},${e.toFixed(4)},${n.toFixed(4)},${u.toFixed(4)}${controlSigmas},fit\n`).join('')}`,
  );
  const words = [
    'fit-site',
    'measured.csv',
    '--control',
    'control.csv',
    '--site-axes',
    'easting_m,northing_m',
    '-o',
    'site.json',
    '--residuals',
    'residuals.csv',
    '--force',
  ];
  if (!isFromBase) return [...words, '--system', 'EPSG:2049'];
  product.write('session.toml', sessionOf([setUp('B', markAt(ORIGIN, random), random)]));
  return [...words, '--session', 'session.toml'];
}

const KINDS = {
  'sigmas stated': { label: 'independent errors, sigmas stated' },
  'from one base': { label: 'measured from one base, its error common; sigmas stated', isFromBase: true },
  'no sigmas': { label: 'independent errors, no sigma stated', hasSigmas: false },
  exact: { label: 'exact data rounded to 0.1 mm, no sigma stated', hasSigmas: false, isExact: true },
};

/** Planted among the control: the id a right answer names, if any. */
const PLANTS = {
  none: () => [],
  'names exchanged': ({ control }, random) => {
    const a = random.index(control.length);
    const b = (a + 1 + random.index(control.length - 1)) % control.length;
    [control[a].id, control[b].id] = [control[b].id, control[a].id];
    const points = [control[a], control[b]];
    // The names of the list are exchanged, those of the measurements are not.
    [points[0].measured, points[1].measured] = [points[1].measured, points[0].measured];
    return points.map(({ id }) => id);
  },
  'a point 0.1 m off': (site, random) => movedBy(0.1, site, random),
  'a point 0.3 m off': (site, random) => movedBy(0.3, site, random),
};

function movedBy(size, { control }, random) {
  const wrong = control[random.index(control.length)];
  random.direction().forEach((part, i) => (wrong.listed[i] += size * part));
  return [wrong.id];
}

function sitesOf(kind, plant, full) {
  return async (product, { seed, scale }) => {
    const { counts, add } = counter();
    const sites = Math.max(10, Math.round(scale * full));
    for (let run = 0; run < sites; run += 1) {
      const random = stream(seed, 'sites', kind, plant, run);
      const site = siteOf(random, { isFromBase: false, isExact: false, ...KINDS[kind] });
      const wrong = PLANTS[plant](site, random);
      const { exit, stderr } = await product.run(written(product, site, kind, random));
      if (exit !== 0) add('not 0');
      const suspects = rowsOf(product.read('residuals.csv')).filter(({ reasons }) =>
        reasons.split(';').includes('site-outlier'),
      );
      if (suspects.length > 0) add('a point suspected');
      add('points suspected', suspects.length);
      add('points', site.control.length);
      if (isNamed(stderr, wrong)) add('named');
      if (wrong.length > 0 && suspects.some(({ point_id: id }) => wrong.includes(id))) add('right point suspected');
      if (/^\* site lengths are|^\* the site is the grid/mu.test(stderr)) add('concluded');
      if (plant === 'none' && kind !== 'exact') await insideOf(product, site, add);
    }
    return { of: sites, counts };
  };
}

/** Whether one line says of two points that they look exchanged, or of one that it does not fit. */
function isNamed(text, wrong) {
  if (wrong.length === 0) return false;
  const words = wrong.length === 2 ? 'exchanged' : 'does not fit';
  return text
    .split('\n')
    .some((line) => line.includes(words) && wrong.every((id) => new RegExp(`\\b${id}\\b`, 'u').test(line)));
}

/** Points within the control, measured without error: does the truth lie within 1.96 of the site's own sigma? */
async function insideOf(product, site, add) {
  const { stdout } = await product.run(['transform', 'inside.csv', '--site', 'site.json', '--quiet']);
  for (const row of rowsOf(stdout)) {
    const { truth } = site.points.find(({ id }) => id === row.point_id);
    ['easting_m', 'northing_m', 'ellipsoidal_height_m'].forEach((name, i) => {
      const sigma = Number(row[['site_sigma_east_m', 'site_sigma_north_m', 'site_sigma_height_m'][i]]);
      const key = i < 2 ? 'inside plan' : 'inside height';
      add(`${key} of`);
      if (Math.abs(Number(row[name]) - truth[i]) <= 1.959964 * sigma + 0.00005) add(key);
    });
  }
}

const FULL_CLEAN = 800;
const FULL_PLANTED = 200;
const PLANTED_KINDS = ['sigmas stated', 'no sigmas'];
const planted = Object.keys(PLANTS)
  .slice(1)
  .flatMap((plant) => PLANTED_KINDS.map((kind) => ({ plant, kind })));

export const part = {
  name: 'sites',
  jobs: ({ isQuick }) => [
    ...Object.keys(KINDS).map((kind) => ({
      id: `sites/${kind}`,
      run: sitesOf(kind, 'none', kind === 'exact' ? 200 : FULL_CLEAN),
    })),
    ...planted
      .filter(({ plant, kind }) => !isQuick || (plant === 'names exchanged' && kind === 'no sigmas'))
      .map(({ plant, kind }) => ({ id: `sites/${kind}/${plant}`, run: sitesOf(kind, plant, FULL_PLANTED) })),
  ],
  text(results, before) {
    const has = (id) => results[id] !== undefined;
    const clean = Object.entries(KINDS)
      .filter(([kind]) => has(`sites/${kind}`))
      .map(([kind, { label }]) => {
        const id = `sites/${kind}`;
        return [
          label,
          String(results[id].of),
          { id, key: 'not 0' },
          { id, key: 'points suspected', of: 'points' },
          { id, key: 'inside plan', of: 'inside plan of' },
          { id, key: 'inside height', of: 'inside height of' },
        ];
      });
    const wrong = planted
      .filter(({ plant, kind }) => has(`sites/${kind}/${plant}`))
      .map(({ plant, kind }) => {
        const id = `sites/${kind}/${plant}`;
        return [
          plant,
          KINDS[kind].label,
          String(results[id].of),
          { id, key: 'not 0' },
          { id, key: 'right point suspected' },
          { id, key: 'named' },
          { id, key: 'concluded' },
        ];
      });
    return `Clean sites of 6 to 10 control points within 1 to 3 km. Goal: \`fit-site\` ends with 1 on 1 % of them at most.\n\n${rateTable({ head: ['sites', 'count', 'ends with 1', 'points suspected', 'inside, plan in 1.96 σ', 'inside, height in 1.96 σ'], rows: clean, results, before })}\n${rateTable({ head: ['planted', 'sigmas', 'sites', 'ends with 1', 'right point suspected', 'named in words', 'lengths concluded all the same'], rows: wrong, results, before })}`;
  },
};
