import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { openTerminal } from '../support/run-command-line.js';
import { textOfPage } from '../support/page-text.js';

// The page of one point is held against what --explain prints, which tests/tasks/explain computes again from its own numbers.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-one-point-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const example = (path: string): string => join(ROOT, 'examples', path);
const CHECK = `pegbook check-tolerances ${example('quillback-pan/expected-points.csv')} --session ${example('quillback-pan/session.toml')}`;
const SITE = `pegbook fit-site ${example('quillback-pan-site/points.csv')} --system EPSG:2049 --control ${example('quillback-pan-site/control.csv')} --site-axes easting_m,northing_m`;
const NETWORK = `pegbook adjust-network --vectors ${example('quillback-pan-network/vectors-with-blunders.csv')} --control ${example('quillback-pan-network/control-typed-wrongly.csv')} --system EPSG:2049`;
const PLAN = `pegbook plan-baseline ${example('quillback-pan-plan/points.csv')} --system EPSG:2049 --base -31.5,21.4,1040 --limit-horizontal 0.03 --limit-vertical 0.05`;
const GRID = `pegbook design-grid ${example('quillback-pan-site/points.csv')} --system EPSG:2049`;
const JOIN = `pegbook join-points ${example('quillback-pan-site/points.csv')} --system EPSG:2049`;
const CARRIED = `pegbook transform ${example('quillback-pan-site/points.csv')} --from EPSG:2049 --to EPSG:2048`;

let pages = 0;
const squeezed = (text: string): string => text.replaceAll(/\s+/gu, ' ');

async function pageOf(line: string): Promise<{ page: string; html: string; printed: string; plain: string }> {
  const terminal = openTerminal(folder);
  const name = `page-${String((pages += 1))}.html`;
  const { stdout } = await terminal.run(`${line} --report ${name}`);
  const html = readFileSync(join(folder, name), 'utf8');
  const plain = (await terminal.run(line)).stdout.toString('utf8');
  return { html, page: squeezed(textOfPage(html)), printed: stdout.toString('utf8'), plain };
}

/** What stands above the contents. */
async function firstScreen(line: string): Promise<string> {
  const { html } = await pageOf(line);
  return squeezed(textOfPage(html.slice(0, html.indexOf('<nav'))));
}

describe('the page of one point', () => {
  it.each([
    ['control', `${CHECK} --control ${example('quillback-pan/control.csv')} --limit-horizontal 0.05`, 'C-01', 'C-02'],
    ['repeats that disagree', `${CHECK} --repeats`, 'QP-03', 'QP-06'],
    ['a control point of a site', SITE, 'QS-3', null],
    ['a point carried over', CARRIED, 'QS-21', 'QS-22'],
    ['a station', NETWORK, 'QN-4', null],
    ['a place of a plan', PLAN, 'PL-05', 'PL-06'],
    ['a point of a project grid', GRID, 'QS-3', 'QS-21'],
    ['a line', `${JOIN} --from QS-1 --to QS-4`, '', 'QS-2'],
  ])('has every line that --explain prints, and no other point: %s', async (_, line, point, other) => {
    const { page, html, printed, plain } = await pageOf(`${line} --explain ${point}`.trim());
    expect(printed, 'what is printed stays as it was').toBe(plain);
    expect(page).toContain('Worked step by step');
    const lines = printed.split('\n').map((text) => squeezed(text.replace(/^ {3,5}(?:\[(.*)\]$)?/u, '$1')).trim());
    expect(lines.length).toBeGreaterThan(10);
    expect(lines.filter((text) => !page.includes(text.replaceAll('-', '−')) && !page.includes(text))).toEqual([]);
    expect(html.length).toBeLessThan(300_000);
    if (other !== null) expect(page).not.toContain(other);
  });

  it('is titled by the point and begins with its own sizes and limits', async () => {
    const day = `${CHECK} --control ${example('quillback-pan/control.csv')} --repeats --limit-horizontal 0.02 --limit-vertical 0.03`;
    const beyond = await firstScreen(`${day} --explain QP-03`);
    // The committed golden case the-invented-day-names-its-planted-repeats has the same difference: 0.0672, 0.0671 in plan, 0.1106 in height.
    expect(beyond).toMatch(/QP-03 against its tolerances/u);
    expect(beyond).toMatch(/not within\. In plan 0\.095 m, limit 0\.020 m; in height 0\.111 m, limit 0\.030 m\./u);
    expect(beyond).not.toMatch(/QP-06|C-01/u);
    expect(await firstScreen(`${day} --explain QP-04@2`)).toMatch(
      /QP-04, occupation 2, against its tolerances .*Within\. QP-04, occupation 2: 1 comparison\. .*Nothing is open at this point/u,
    );
  });

  it('says of a control point how it fits, and of the fit as a whole last', async () => {
    const fitted = await firstScreen(`${SITE} --explain QS-3`);
    // Of the table of residuals of the golden case a-site-and-its-residuals-are-written: east -0.0148, north 0.0051, height 0.0046.
    expect(fitted).toMatch(
      /Within\. QS-3, a point of the fit: the fit puts it 14\.8 mm west of, 5\.1 mm north of and 4\.6 mm above its control\./u,
    );
    expect(fitted).toMatch(/Baarda's, residual over its sigma: east −1\.71, .*; limit 3\.\d\d in plan/u);
    expect(fitted).toMatch(/Without it the others put it 22\.9 mm west of/u);
    expect(fitted.indexOf('The whole fit')).toBeGreaterThan(fitted.indexOf('Next.'));
    expect(await firstScreen(`${SITE} --explain QS-7`)).toMatch(
      /QS-7, kept out to check: the fit puts it 3\.8 mm east of, 14\.0 mm south of and 9\.9 mm below its control\. Allowed\. One sigma/u,
    );
  });

  it('says where a point went, and leaves out the warning of another', async () => {
    const onSite = `pegbook transform ${example('quillback-pan-site/points.csv')} --site ${example('quillback-pan-site/site.json')} --extrapolate`;
    const inside = await pageOf(`${onSite} --explain QS-21`);
    expect(inside.page).toMatch(
      /Done\. QS-21 from EPSG:2049 onto the site: easting 4844\.4035 m, northing 7310\.4080 m, orthometric height 1050\.4474 m\./u,
    );
    expect(inside.page).not.toMatch(/QS-31|beyond the buffer/u);
    const outside = await pageOf(`${onSite} --explain QS-31`);
    expect(outside.page).toMatch(/It lies 2\.4 km outside its control\. In doubt: a point lies outside/u);
    expect(outside.page).toMatch(/Warnings .*:13: QS-31: the point is/u);
  });

  it('has of a station its own observations, and says that the coordinates are not to be used', async () => {
    const { page } = await pageOf(`${NETWORK} --explain QN-4`);
    const whole = await pageOf(NETWORK);
    const rows = (text: string): readonly string[] =>
      (text.slice(text.indexOf('Observations. Residuals')).match(/QN-\d \| QN-\d \| vector \|/gu) ?? []).toSorted();
    expect(rows(whole.page).filter((row) => row.includes('QN-4'))).toEqual(rows(page));
    expect(rows(page)).toHaveLength(4);
    expect(rows(whole.page).length).toBeGreaterThan(4);
    // Three of its four vectors were planted wrong or meet one that was (examples/quillback-pan-network/README.md).
    expect(page).toMatch(/Fails: vector QN-1 to QN-4 .*; vector QN-3 to QN-4 .*; vector QN-4 to QN-6 /u);
    expect(page).toContain('Use no coordinates of this page yet');
    expect(page).toMatch(/Warnings .*vector QN-4 to QN-6 does not agree/u);
    expect((await pageOf(`${NETWORK} --explain QN-7`)).page).not.toContain('to QN-6 does not agree');
    expect(await firstScreen(`${NETWORK} --explain QN-2`)).toMatch(
      /As control it does not agree: the network and the other control put it 7\.4 mm west of, 558\.1 mm south of, 6\.9 mm above where it is stated; test \d+\.\d, limit 14\.3\./u,
    );
  });

  it('has of a place what is predicted and asked for, and when it is visited', async () => {
    expect(await firstScreen(`${PLAN} --explain PL-05`)).toMatch(
      /PL-05 in the plan .*Outside\. PL-05, 38\.5 km from the base, .*in plan 41\.7 mm \(95 %\), tolerance 30 mm; in height 82\.9 mm \(95 %\), tolerance 50 mm\. What would help: repeats apart in time\./u,
    );
    const day = `${PLAN} --timetable tt.csv --start-utc 2026-03-04T06:00:00Z --speed 60 --force --explain PL-01`;
    expect(await firstScreen(day)).toMatch(/In the timetable 0\d:\d\d to 0\d:\d\d/u);
  });

  it('has of a point of a grid its place and what a length is there', async () => {
    expect(await firstScreen(`${GRID} --explain QS-3`)).toMatch(
      /QS-3 on the project grid .*a length on the grid is 0\.24 mm in 100 m shorter than on the ground \(−2\.4 ppm\)/u,
    );
  });

  it('works the lines of a page through, of many the first', async () => {
    expect(await firstScreen(`${JOIN} --from QS-1 --to QS-4 --explain`)).toMatch(
      /Line from QS-1 to QS-4 .*On the grid 2471\.0142 m, on the ellipsoid 2470\.9836 m, on the ground 2471\.4015 m, grid bearing 1\.62\d*°/u,
    );
    const ids = Array.from({ length: 60 }, (_, at) => `P${String(at)},${String(500_000 + 100 * at)},6500000,1000`);
    writeFileSync(join(folder, 'many.csv'), `point_id,easting_m,northing_m,ellipsoidal_height_m\n${ids.join('\n')}\n`);
    const { page, printed } = await pageOf('pegbook join-points many.csv --system EPSG:32634 --consecutive --explain');
    expect(printed.match(/^Line from /gmu)).toHaveLength(59);
    expect(page).toContain('The first 40 of 59 lines; the command prints all.');
    expect(page.match(/Line from P\d+ to P\d+ 1\. /gu)).toHaveLength(40);
  });

  it('judges that point alone', async () => {
    const day = `${CHECK} --control ${example('quillback-pan/control.csv')} --limit-horizontal 0.05 --repeats`;
    const whole = await pageOf(day);
    expect(whole.page).not.toContain('Worked step by step');
    expect(whole.page).toContain('Not within.');
    const within = await pageOf(`${day} --explain QP-04`);
    expect(within.page).toMatch(/Within\. QP-04: 1 comparison\. /u);
    const beyond = await pageOf(`${day} --explain QP-03`);
    expect(beyond.page).toMatch(/Not within\. QP-03: 1 comparison\. /u);
  });

  it('keeps of a site the figure of all control and in its tables that point', async () => {
    const { page, html } = await pageOf(`${SITE} --explain QS-3`);
    const whole = await pageOf(SITE);
    const marks = (text: string): number => text.match(/class="(?:mark|doubt|bad)/gu)?.length ?? 0;
    expect(marks(html)).toBe(marks(whole.html));
    const rows = page.slice(
      page.indexOf('Fitted. Fitted minus control'),
      page.indexOf('Leverage and what can be seen'),
    );
    expect(rows.match(/QS-\d+ \|/gu) ?? []).toEqual(['QS-3 |']);
  });
});
