import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keysOfSources } from '../../support/explanation/cited-keys.js';
import { readExplanation } from '../../support/explanation/read-explanation.js';
import { printedAs } from '../../support/explanation/printed-as.js';
import { ROOT } from '../../support/repository-files.js';
import { openTerminal } from '../../support/run-command-line.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-explained-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const example = (path: string): string => join(ROOT, 'examples', path);
const PLAN = `pegbook plan-baseline ${example('quillback-pan-plan/points.csv')} --system EPSG:2049 --base -31.5,21.4,1040 --limit-horizontal 0.05 --limit-vertical 0.10 --pole-length 2 --base-sigma 0.01,0.02 --base-error 2`;
const CHECK = `pegbook check-tolerances ${example('quillback-pan-check/points.csv')} --session ${example('quillback-pan/session.toml')}`;
const SITE = `pegbook fit-site ${example('quillback-pan-site/points.csv')} --system EPSG:2049 --control ${example('quillback-pan-site/control.csv')} --site-axes easting_m,northing_m`;
/** The same without sigmas. */
const bare = (name: string, columns: readonly number[]): string => {
  const rows = readFileSync(example(`quillback-pan-site/${name}.csv`), 'utf8')
    .trimEnd()
    .split('\n');
  writeFileSync(
    join(folder, `bare-${name}.csv`),
    rows.map((row) => columns.map((column) => row.split(',')[column]).join(',')).join('\n'),
  );
  return `bare-${name}.csv`;
};
const BARE_SITE = `pegbook fit-site ${bare('points', [0, 1, 2, 3, 4])} --system EPSG:2049 --control ${bare('control', [0, 1, 2, 3, 6])} --site-axes easting_m,northing_m`;
const SURFACE = `pegbook fit-site ${example('quillback-pan-heights/points.csv')} --system EPSG:2049 --control ${example('quillback-pan-heights/benchmarks.csv')} --vertical surface`;
const FROM_BASES = `pegbook fit-site from-bases.csv --session bases.toml --control benchmarks.csv --vertical surface`;
/** Benchmarks on a level, six from each of two bases, and one more kept out: nothing shows a tilt. */
const LEVEL = Array.from({ length: 13 }, (_, i) => ({
  id: `Q${String(i).padStart(2, '0')}`,
  westing: -30_000 - 9000 * (i % 4) - 150 * i,
  southing: 3_480_000 + 8000 * Math.floor(i / 4) + 100 * i,
  off: ((i * 7) % 11) / 1000,
}));
writeFileSync(
  join(folder, 'from-bases.csv'),
  `point_id,westing_m,southing_m,orthometric_height_m,sigma_east_m,sigma_north_m,sigma_up_m,base_id\n${LEVEL.map(({ id, westing, southing, off }, i) => `${id},${String(westing)},${String(southing)},${(1000 + off).toFixed(4)},0.012,0.012,0.025,B${String(1 + (i % 2))}`).join('\n')}\n`,
);
writeFileSync(
  join(folder, 'benchmarks.csv'),
  `point_id,westing_m,southing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role\n${LEVEL.map(({ id, westing, southing }, i) => `${id},${String(westing)},${String(southing)},1000.21,0.01,0.004,${i === 12 ? 'check' : 'fit'}`).join('\n')}\n`,
);
/** Enough benchmarks to tell their own signal, and one more kept out. */
const MANY = Array.from({ length: 18 }, (_, i) => ({
  id: `R${String(i).padStart(2, '0')}`,
  places: `${String(-30_000 - 9000 * (i % 5) - 170 * i)},${String(3_480_000 + 9000 * Math.floor(i / 5) + 130 * i)}`,
  off: 0.02 * Math.sin(1.3 * (i % 5) + 0.9 * Math.floor(i / 5)) + ((i * 7) % 5) / 500,
}));
writeFileSync(
  join(folder, 'many.csv'),
  `point_id,westing_m,southing_m,orthometric_height_m,sigma_east_m,sigma_north_m,sigma_up_m\n${MANY.map(({ id, places, off }) => `${id},${places},${(1000 - off).toFixed(4)},0.012,0.012,0.008`).join('\n')}\n`,
);
writeFileSync(
  join(folder, 'many-control.csv'),
  `point_id,westing_m,southing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role\n${MANY.map(({ id, places }, i) => `${id},${places},1000,0.01,0.004,${i === 12 ? 'check' : 'fit'}`).join('\n')}\n`,
);
const OF_MANY = 'pegbook fit-site many.csv --system EPSG:2049 --control many-control.csv --vertical surface';
writeFileSync(
  join(folder, 'bases.toml'),
  `version = 1\n[system]\ngrid = "EPSG:2049"\n${[1, 2].map((n) => `[[base]]\nid = "B${String(n)}"\nbroadcast = { latitude_deg = -31.${String(4 + n)}, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }\nantenna_height_m = 1.6\nantenna_height_kind = "vertical"\nsigma_horizontal_m = 0.01\nsigma_vertical_m = 0.02\n`).join('')}`,
);
writeFileSync(
  join(folder, 'places.csv'),
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nP,-31.5,21.4,1040.25\nQ,-31.75,21.9,900\n',
);
/** A sphere, and geographic coordinates on it. */
const RADIUS = '+a=6371000 +b=6371000';
const SPHERE = `+proj=longlat ${RADIUS}`;
/**
 * Places, invented, in the areas of some grids; BE, CS and MD are those of the examples of methods 9803, 1042 and 9813 (IOGP-373-7-2, recalled;
 * tests/reference/projections.csv has their pairs), a tenth of a microdegree off.
 */
const ABROAD = {
  FR: '48.5123456,2.4567891',
  WA: '47.8123456,-120.4567891',
  NL: '52.3123456,5.1567891',
  NP: '78.5123456,-60.4567891',
  SP: '-78.5123456,170.4567891',
  CH: '46.8123456,8.4567891',
  CZ: '49.8123456,15.4567891',
  EU: '44.8123456,-2.4567891',
  MY: '3.1234567,101.6543211',
  BO: '1.5234567,110.3543211',
  AK: '57.1234567,-134.1234567',
  SG: '1.3234567,103.8543211',
  MG: '-17.1234567,47.1234567',
  FJ: '-16.4234567,179.8543211',
  BR: '-12.1234567,-48.4567891',
  CO: '4.8123456,-74.2567891',
  NZ: '-41.2123456,174.6567891',
  BE: '50.6795725,5.8073703',
  CS: '50.2090117,16.8497719',
  MD: '-16.1898000,44.4575722',
  FAR: '-12.1234567,-26.4567891',
  EQ: '0,-48.4567891',
};
const onto = (from: string, to: string, id: keyof typeof ABROAD): string => {
  writeFileSync(join(folder, `${id}.csv`), `point_id,latitude_deg,longitude_deg\n${id},${ABROAD[id]}\n`);
  return `pegbook transform ${id}.csv --from '${from}' --to '${to}' --explain ${id}`;
};

writeFileSync(
  join(folder, 'shift.toml'),
  [
    'method = "position vector transformation"',
    'rotation_convention = "position-vector"',
    'tx_m = -0.9',
    'ty_m = 1.2',
    'tz_m = 0.35',
    'rx_arcsec = 0.12',
    'ry_arcsec = -0.3',
    'rz_arcsec = 0.21',
    'ds_ppm = 0.05',
    'source = "invented"',
  ].join('\n'),
);

const JOIN = 'pegbook join-points south.csv --system EPSG:2049';
writeFileSync(
  join(folder, 'south.csv'),
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,orthometric_height_m\nS-01,-31.501451002,21.401420711,1040.2202,1012.623\nS-02,-31.676441941,20.834219973,1139.8037,1113.0947\n',
);
writeFileSync(
  join(folder, 'feet.csv'),
  'point_id,latitude_deg,longitude_deg\nA,47.8123456,-120.4567891\nB,47.8123001,-120.4569003\n',
);
/** The base of the invented day, as a service might give it. */
writeFileSync(join(folder, 'xyz.csv'), 'point_id,x_m,y_m,z_m\nP,5068781.2434,1986433.6494,-3313832.2490\n');
const CHAIN = `pegbook transform xyz.csv --from EPSG:9988 --to EPSG:2049 --epoch 2026.9 --geoid ${example('quillback-pan/geoid.csv')} --from-height ellipsoidal --to-height orthometric`;
const ON_SITE = `--site ${example('quillback-pan-site/site.json')} --explain QS-21`;

describe('explanations of other commands, computed again from their own numbers', () => {
  // The formulas are those of the sources that each step names.
  it.each([
    ['a plan', `${PLAN} --explain PL-05 -q`, 10, 'troposphere_v'],
    ['a plan of sixty epochs', `${PLAN} --occupation-epochs 60 --explain PL-05 -q`, 16, 'f_h'],
    [
      'control',
      `${CHECK} --control ${example('quillback-pan/control.csv')} --limit-horizontal 0.05 --explain C-01`,
      8,
      'margin',
    ],
    ['repeats', `${CHECK} --repeats --explain QP-03`, 6, 'plan'],
    ['a point of a fit', `${SITE} --explain CONTROL`, 12, 'leverage_E'],
    ['a point of a fit that states no sigma', `${BARE_SITE} --explain CONTROL`, 12, 'pair'],
    [
      'a point of a project grid',
      `pegbook design-grid ${example('quillback-pan-site/points.csv')} --system EPSG:2049 --explain QS-3`,
      5,
      'δ',
    ],
    ['a benchmark of a surface', `${SURFACE} --explain QB-08`, 30, 'σ_left'],
    ['a benchmark kept out of a surface', `${SURFACE} --signal second-order-markov --explain QB-12`, 30, 'σ_left'],
    ['heights from bases that are known, with a tilt untold', `${FROM_BASES} --explain Q12`, 60, 'off'],
    ['a benchmark kept out, its signal told by the others', `${OF_MANY} --explain R12`, 50, 'σ_2L'],
    [
      'a shift and two grids',
      'pegbook transform places.csv --from EPSG:4148 --to EPSG:2048 --shift shift.toml --explain P',
      40,
      'α₃',
    ],
    [
      'a grid of westings and northings',
      "pegbook transform places.csv --from EPSG:4326 --to '+proj=tmerc +lat_0=-31 +lon_0=21 +k_0=0.9996 +x_0=-5000 +y_0=100 +ellps=WGS84 +axis=wnu' --explain P",
      20,
      'E',
    ],
    ['a cone of two parallels', onto('EPSG:4171', 'EPSG:2154', 'FR'), 14, 'θ'],
    [
      'a cone of one parallel',
      onto(
        'EPSG:4275',
        '+proj=lcc +lat_1=49.5 +lat_0=49.5 +lon_0=2.5 +k_0=0.999877341 +x_0=600000 +y_0=200000 +ellps=clrk80ign',
        'FR',
      ),
      14,
      'θ',
    ],
    ['a cone in feet', onto('EPSG:4269', 'EPSG:2285', 'WA'), 14, 'easting_us_survey_ft'],
    ['the stereographic map of a conformal sphere', onto('EPSG:4289', 'EPSG:28992', 'NL'), 14, 'χ₀'],
    ['the stereographic map of the north pole, true at a parallel', onto('EPSG:4326', 'EPSG:3413', 'NP'), 9, 'q_F'],
    ['the stereographic map of the south pole, true at a parallel', onto('EPSG:4326', 'EPSG:3031', 'SP'), 9, 'q_F'],
    ['the stereographic map of the south pole, its scale given', onto('EPSG:4326', 'EPSG:5042', 'SP'), 8, 'c'],
    ['Mercator', onto('EPSG:4326', 'EPSG:3395', 'FR'), 6, 'q'],
    [
      'Mercator, true at a parallel',
      onto('+proj=longlat +ellps=krass', '+proj=merc +lat_ts=42 +lon_0=51 +ellps=krass', 'FR'),
      7,
      'k₀',
    ],
    ['the Swiss cylinder', onto('EPSG:4150', 'EPSG:2056', 'CH'), 14, 'L'],
    ['the oblique cone of Krovak', onto('EPSG:4156', 'EPSG:5514', 'CZ'), 22, 'ψ'],
    ['Krovak, modified, counted east and north', onto('EPSG:5228', 'EPSG:5516', 'CS'), 34, 'γ_M'],
    ['Krovak, modified, counted south and west', onto('EPSG:5228', 'EPSG:5515', 'CS'), 20, 'δ_S'],
    ['Laborde', onto('EPSG:4297', 'EPSG:8441', 'MD'), 22, 'F_n'],
    ['the map grid of New Zealand', onto('EPSG:4272', 'EPSG:27200', 'NZ'), 22, 'x′'],
    ['the Belgian turn of a cone', onto('EPSG:4313', 'EPSG:31300', 'BE'), 14, 'θ'],
    ['Mercator on a sphere', onto('EPSG:4326', 'EPSG:3857', 'FR'), 4, 'q'],
    [
      'the stereographic map about a place',
      onto('+proj=longlat +ellps=GRS80', '+proj=stere +lat_0=46 +lon_0=-1 +k_0=0.9997 +x_0=1000 +ellps=GRS80', 'EU'),
      10,
      'χ₀',
    ],
    [
      'the stereographic map about a place of a sphere',
      onto('+proj=longlat +a=6371000 +b=6371000', '+proj=stere +lat_0=-20 +lon_0=46 +a=6371000 +b=6371000', 'MG'),
      10,
      'χ₀',
    ],
    ['Krovak counted south and west', onto('EPSG:4156', 'EPSG:5513', 'CZ'), 20, 'r'],
    ['an oblique cylinder counted from its centre', onto('EPSG:4298', 'EPSG:29873', 'BO'), 18, 'u_c'],
    ['an oblique cylinder counted from its equator', onto('EPSG:4742', 'EPSG:3375', 'MY'), 19, 'ψ'],
    ['an oblique cylinder in feet', onto('EPSG:4269', 'EPSG:26931', 'AK'), 16, 'v'],
    [
      'an oblique cylinder south of the equator',
      onto(
        '+proj=longlat +ellps=WGS84',
        '+proj=omerc +lat_0=-18 +lonc=46 +alpha=19 +k_0=0.9995 +gamma=19 +x_0=400000 +y_0=800000 +ellps=WGS84',
        'MG',
      ),
      18,
      'u_c',
    ],
    ['Cassini and Soldner', onto('EPSG:4245', 'EPSG:24500', 'SG'), 18, 'M₀'],
    [
      'Cassini and Soldner, hyperbolic, in links',
      onto('+proj=longlat +a=6378306.3696 +rf=293.4663076556355', 'EPSG:3139', 'FJ'),
      18,
      'ρ',
    ],
    ['equal areas about the north pole', onto('EPSG:4326', 'EPSG:6931', 'NP'), 7, 'ρ'],
    ['equal areas about the south pole', onto('EPSG:4326', 'EPSG:6932', 'SP'), 7, 'ρ'],
    ['equal areas on a cone', onto('EPSG:4269', 'EPSG:5070', 'WA'), 15, 'C'],
    [
      'equal areas on a cone south of the equator',
      onto('+proj=longlat +ellps=GRS80', '+proj=aea +lat_0=0 +lat_1=-18 +lat_2=-36 +lon_0=45 +ellps=GRS80', 'MG'),
      15,
      'ρ₀',
    ],
    ['the American polyconic', onto('EPSG:4674', 'EPSG:5880', 'BR'), 15, 'ν'],
    ['the equidistant cylinder', onto('EPSG:4326', 'EPSG:4087', 'FR'), 8, 'M'],
    ['the cylinder that keeps areas', onto('EPSG:4326', 'EPSG:6933', 'MG'), 5, 'q'],
    ['Equal Earth', onto('EPSG:4326', 'EPSG:8857', 'SP'), 9, 'θ'],
    [
      'equal areas about a place of a sphere',
      onto(SPHERE, `+proj=laea +lat_0=-20 +lon_0=46 ${RADIUS}`, 'MG'),
      13,
      'β₀',
    ],
    ['equal areas about the pole of a sphere', onto(SPHERE, `+proj=laea +lat_0=-90 +lon_0=0 ${RADIUS}`, 'SP'), 7, 'ρ'],
    [
      'equal areas on a cone of a sphere',
      onto(SPHERE, `+proj=aea +lat_0=0 +lat_1=-18 +lat_2=-36 +lon_0=45 ${RADIUS}`, 'MG'),
      15,
      'ρ₀',
    ],
    [
      'equal areas on a cone that touches',
      onto('+proj=longlat +ellps=GRS80', '+proj=aea +lat_0=0 +lat_1=-18 +lat_2=-18 +lon_0=45 +ellps=GRS80', 'MG'),
      15,
      'ρ₀',
    ],
    [
      'the cylinder of a sphere that keeps areas',
      onto(SPHERE, `+proj=cea +lat_ts=-20 +lon_0=45 ${RADIUS}`, 'MG'),
      5,
      'q',
    ],
    [
      'the equidistant cylinder of a sphere',
      onto(SPHERE, `+proj=eqc +lat_ts=-20 +lat_0=-10 +lon_0=45 ${RADIUS}`, 'MG'),
      6,
      'M₀',
    ],
    ['Cassini and Soldner of a sphere', onto(SPHERE, `+proj=cass +lat_0=-20 +lon_0=45 ${RADIUS}`, 'MG'), 9, 'T'],
    ['Equal Earth of a sphere', onto(SPHERE, `+proj=eqearth +lon_0=45 ${RADIUS}`, 'MG'), 9, 'θ'],
    ['the American polyconic of a sphere', onto(SPHERE, `+proj=poly +lat_0=-20 +lon_0=45 ${RADIUS}`, 'MG'), 8, 'ν'],
    ['the American polyconic far from its meridian', onto('EPSG:4674', 'EPSG:5880', 'FAR'), 15, 'ν'],
    ['the American polyconic on the equator', onto('EPSG:4674', 'EPSG:5880', 'EQ'), 11, 'M₀'],
    ['a plane over a city', onto('EPSG:4686', 'EPSG:6247', 'CO'), 11, 'ρ_m'],
    ['equal areas about a place', onto('EPSG:4258', 'EPSG:3035', 'EU'), 13, 'β₀'],
    ['a chain of frames, and a geoid between four nodes', `${CHAIN} --explain P`, 40, 'r₂'],
    ['a geoid between nine nodes', `${CHAIN} --geoid-interpolation biquadratic --explain P`, 40, 'r₃'],
    ['a geoid between sixteen nodes', `${CHAIN} --geoid-interpolation bicubic --explain P`, 40, 'r₄'],
    [
      'a plate whose model has an origin rate',
      'pegbook transform xyz.csv --from EPSG:9988 --to EPSG:9988 --epoch-from 2020 --epoch-to 2026.9 --plate Nubian --plate-model itrf2020 --explain P',
      8,
      'T_u',
    ],
    [
      'a velocity',
      'pegbook transform xyz.csv --from EPSG:9988 --to EPSG:9988 --epoch-from 2020 --epoch-to 2026.9 --velocity=0.0123,-0.0045,0.0067 --explain P',
      4,
      'X',
    ],
    ['onto a site', `pegbook transform ${example('quillback-pan-site/work.csv')} --from EPSG:2049 ${ON_SITE}`, 30, 'δ'],
    [
      'onto a site by its surface of heights',
      `pegbook transform ${example('quillback-pan-heights/points.csv')} --site surface.json --extrapolate --explain QH-2`,
      24,
      'δ',
    ],
    [
      'off a site',
      `pegbook transform ${example('quillback-pan-site/on-site.csv')} --to EPSG:2049 --inverse ${ON_SITE}`,
      4,
      'δ',
    ],
    [
      'grid to ground',
      `pegbook transform ${example('quillback-pan-site/work.csv')} --from EPSG:2049 --to EPSG:2049 --ground-at=-31.46,21.34,1080 --explain QS-21`,
      2,
      'first',
    ],
    ['a line between two points', `${JOIN} --from S-01 --to S-02 --explain`, 30, 'ground'],
    [
      'a line of a grid in feet',
      `pegbook join-points feet.csv --system EPSG:2285 --from A --to B --explain`,
      20,
      'bearing',
    ],
  ])('come out to the last printed digit: %s', async (title, line, least, name) => {
    if (line.includes('surface.json')) await openTerminal(folder).run(`${SURFACE} -o surface.json --force`);
    const control = readFileSync(example('quillback-pan-site/control.csv'), 'utf8').split('\n')[1]?.split(',')[0] ?? '';
    const { stdout, stderr } = await openTerminal(folder).run(line.replace('CONTROL', control));
    const text = stdout.toString('utf8');
    await expect(text).toMatchFileSnapshot(printedAs(title));
    const steps = readExplanation(text);
    expect(
      steps.flatMap(({ title, wrong }) => wrong.map((what) => `${title}: ${what}`)),
      stderr,
    ).toEqual([]);
    const computed = steps.flatMap((step) => step.computed);
    expect(computed.length, text + stderr).toBeGreaterThanOrEqual(least);
    expect(computed).toContain(name);
    expect(stderr).not.toMatch(/^verdict/mu);
    expect(keysOfSources(steps.map(({ source }) => source)).missing).toEqual([]);
  });

  it.each([
    ['check-tolerances', `${CHECK} --repeats --explain NOBODY`],
    ['fit-site', `${SITE} --explain NOBODY`],
    ['transform', 'pegbook transform places.csv --from EPSG:4148 --to EPSG:2048 --explain NOBODY'],
  ])('refuse a point that is not there: %s', async (_, line) => {
    const { stderr, exit } = await openTerminal(folder).run(line);
    expect(stderr).toContain('value-unknown-id');
    expect(exit).not.toBe(0);
  });

  it.each([
    ['a register', `--job ${example('quillback-pan-days/job.toml')} --register`],
    ['the field procedure', '--standard iso-17123-8'],
  ])('are refused of %s, which has nothing of one point to explain', async (_, more) => {
    const { stderr, exit } = await openTerminal(folder).run(
      `pegbook check-tolerances ${example('quillback-pan-days/expected-points.csv')} ${more} --explain C1`,
    );
    expect(stderr).toContain('--explain does not go with');
    expect(exit).not.toBe(0);
  });

  it('make a page of one point with its figures and its working, and of no other', async () => {
    const day = `pegbook reduce-points ${example('quillback-pan/fixes.csv')} --session ${example('quillback-pan/session.toml')}`;
    await openTerminal(folder).run(`${day} --explain QP-04 --report one.html`);
    const html = readFileSync(join(folder, 'one.html'), 'utf8');
    expect(html).toContain('Worked step by step');
    expect(html).toContain('Reduction of QP-04, occupation 2');
    expect(html).toContain('Where the uncertainty comes from');
    expect(html.match(/class="stand"/gu)?.length).toBe(2);
    expect(html).not.toContain('QP-05');
    expect(html.length).toBeLessThan(500_000);
  });
});
