import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { openTerminal } from '../support/run-command-line.js';
import { textOfPage } from '../support/page-text.js';

// What the pages of golden cases say, as text: every figure of their tables and notes; drawings have tests of their own. Regression: the figures are those
// of the tables that other tests hold against sources; these notice where a page says another one, or says it of another point.
// `npx vitest run tests/report/page-text.test.ts -u` rewrites them; review the difference.
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const PAGES: readonly string[] = [
  'reduce-points/repeats-joined',
  'reduce-points/repeats-that-disagree',
  'reduce-points/a-job-of-two-days',
  'reduce-points/a-noisy-day-is-said-first',
  'reduce-points/points-rejected-is-no',
  'check-tolerances/the-invented-day-names-its-planted-repeats',
  'check-tolerances/control-within-its-limits',
  'check-tolerances/a-wrong-base-is-the-nearest-cause-and-single-occupations-follow',
  'check-tolerances/points-along-a-line-have-chainage-and-offset',
  'check-tolerances/a-tolerance-of-a-design-point-without-a-height-cannot-be-stated',
  'plan-baseline/a-day-with-control-first-middle-and-last',
  'plan-baseline/the-best-candidate-with-a-network-and-its-ranking-as-json',
  'plan-baseline/the-fewest-bases-for-a-route',
  'fit-site/a-site-and-its-residuals-are-written',
  'fit-site/a-blunder-is-looked-at-first',
  'fit-site/a-check-point-that-is-off-ends-with-one',
  'fit-site/the-base-of-the-session-is-in-the-uncertainty',
  'adjust-network/a-network-of-thirteen-vectors-and-its-observations',
  'adjust-network/control-typed-wrongly-is-left-out-on-request',
  'adjust-network/levelling-and-a-distance-join-in',
  'adjust-network/a-free-net-on-the-mean-of-its-control',
  'adjust-network/two-days-with-their-run-records',
  'inspect-corrections/the-link-of-an-hour-with-its-stream',
  'transform/a-chain-of-published-operations',
  'transform/a-site-extrapolates-on-request-with-its-growing-sigma',
  'transform/bad-rows-skipped-on-request',
  'transform/what-nothing-checked-goes-along',
  'join-points/a-south-orientated-grid-has-bearings-from-south-too',
  'join-points/polar-points-of-every-kind',
  'join-points/an-area-on-grid-ellipsoid-and-ground',
];

const scratch = mkdtempSync(join(tmpdir(), 'pegbook-pages-'));
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

const linesOf = (path: string): readonly string[] =>
  existsSync(path)
    ? readFileSync(path, 'utf8')
        .replaceAll(/\\\r?\n\s*/g, ' ')
        .split(/\r?\n/u)
        .filter((line) => line.trim() !== '' && !line.startsWith('#'))
    : [];

/** Runs the lines of a case, the last one with a page; gives the page. */
async function pageOf(name: string): Promise<string> {
  const source = join(ROOT, 'tests/cases', name);
  const work = mkdtempSync(join(scratch, 'case-'));
  for (const entry of readdirSync(source))
    if (!['cmd', 'expout', 'experr', 'exit', 'uses'].includes(entry) && !entry.startsWith('expected-'))
      cpSync(join(source, entry), join(work, entry), { recursive: true });
  for (const path of linesOf(join(source, 'uses')))
    cpSync(join(ROOT, path), join(work, basename(path)), { recursive: true });
  const terminal = openTerminal(work);
  const lines = linesOf(join(source, 'cmd'));
  for (const [index, line] of lines.entries()) {
    const isLast = index === lines.length - 1;
    const { exit, stderr } = await terminal.run(isLast ? `${line} --report page.html` : line);
    if (exit > 1) throw new Error(stderr);
  }
  return readFileSync(join(work, 'page.html'), 'utf8');
}

describe('the text of a page', () => {
  it.each(PAGES)('%s', async (name) => {
    await expect(textOfPage(await pageOf(name))).toMatchFileSnapshot(`./pages/${name.replace('/', '--')}.txt`);
  });

  it('has a row of a table on a line, and no drawings', () => {
    const html =
      '<title>T</title><style>a{}</style><h1>A &amp; B</h1><table><tr><th>x</th><td>1</td></tr><tr><td>2</td></tr></table><figure><svg><text x="1">5 m</text></svg><figcaption>6</figcaption></figure>';
    expect(textOfPage(html)).toBe('T\nA & B\nx | 1\n2\n');
  });
});
