import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
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

describe('the page of one point', () => {
  it.each([
    ['control', `${CHECK} --control ${example('quillback-pan/control.csv')} --limit-horizontal 0.05`, 'C-01', 'C-02'],
    ['repeats that disagree', `${CHECK} --repeats`, 'QP-03', 'QP-06'],
    ['a control point of a site', SITE, 'QS-3', null],
    ['a point carried over', CARRIED, 'QS-21', 'QS-22'],
  ])('has every line that --explain prints, and no other point: %s', async (_, line, point, other) => {
    const { page, html, printed, plain } = await pageOf(`${line} --explain ${point}`);
    expect(printed, 'what is printed stays as it was').toBe(plain);
    expect(page).toContain('Worked step by step');
    const lines = printed.split('\n').map((text) => squeezed(text.replace(/^ {3,5}(?:\[(.*)\]$)?/u, '$1')).trim());
    expect(lines.length).toBeGreaterThan(10);
    expect(lines.filter((text) => !page.includes(text.replaceAll('-', '−')) && !page.includes(text))).toEqual([]);
    expect(html.length).toBeLessThan(300_000);
    if (other !== null) expect(page).not.toContain(other);
  });

  it('judges that point alone', async () => {
    const day = `${CHECK} --control ${example('quillback-pan/control.csv')} --limit-horizontal 0.05 --repeats`;
    const whole = await pageOf(day);
    expect(whole.page).not.toContain('Worked step by step');
    expect(whole.page).toContain('Not within.');
    const within = await pageOf(`${day} --explain QP-04`);
    expect(within.page).toMatch(/Within\. 1 comparison: 1 within/u);
    const beyond = await pageOf(`${day} --explain QP-03`);
    expect(beyond.page).toMatch(/Not within\. 1 comparison: .*1 beyond/u);
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
