import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keysOfSources } from '../../support/explanation/cited-keys.js';
import { readExplanation } from '../../support/explanation/read-explanation.js';
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
writeFileSync(
  join(folder, 'places.csv'),
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nP,-31.5,21.4,1040.25\nQ,-31.75,21.9,900\n',
);
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
  ])('come out to the last printed digit: %s', async (_, line, least, name) => {
    const control = readFileSync(example('quillback-pan-site/control.csv'), 'utf8').split('\n')[1]?.split(',')[0] ?? '';
    const { stdout, stderr } = await openTerminal(folder).run(line.replace('CONTROL', control));
    const text = stdout.toString('utf8');
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
