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
  'plan-sky/windows-of-a-day-at-points-with-skylines',
  'reduce-points/the-sky-over-doubtful-occupations',
  'transform/a-chain-of-published-operations',
  'transform/a-site-extrapolates-on-request-with-its-growing-sigma',
  'transform/bad-rows-skipped-on-request',
  'transform/what-nothing-checked-goes-along',
  'join-points/a-south-orientated-grid-has-bearings-from-south-too',
  'join-points/polar-points-of-every-kind',
  'join-points/an-area-on-grid-ellipsoid-and-ground',
  'reduce-points/a-base-known-by-a-sinex-file',
  'reduce-points/a-base-known-by-an-earlier-day',
  'reduce-points/a-job-leaves-out-and-renames',
  'reduce-points/a-job-of-two-days-joined',
  'reduce-points/a-national-base-in-the-frame-of-the-satellites',
  'reduce-points/a-part-of-the-rows',
  'reduce-points/a-pole-that-changes-within-a-second-is-doubted',
  'reduce-points/a-shift-is-explained',
  'reduce-points/an-acknowledged-warning-is-one-line',
  'reduce-points/an-operation-by-its-code-in-the-session',
  'reduce-points/an-option-overruled-by-the-rows-is-warned-of',
  'reduce-points/bad-rows-skipped-on-request',
  'reduce-points/foreign-units-words-and-times',
  'reduce-points/nmea-log-is-one-point-a-file',
  'reduce-points/tilt-azimuth-sigma-not-stated',
  'reduce-points/two-set-ups-of-one-name-are-two',
  'check-tolerances/a-base-known-by-an-earlier-day-is-where-that-day-has-it',
  'check-tolerances/a-common-height-offset-opens-its-cause-though-each-check-is-near-its-uncertainty',
  'check-tolerances/a-control-whose-columns-are-not-known-is-compared-in-height-only-and-says-so',
  'check-tolerances/control-under-another-name-cannot-be-stated',
  'check-tolerances/a-limit-in-plan-does-not-switch-height-off',
  'check-tolerances/a-limit-that-needs-a-distance-cannot-be-stated-without',
  'check-tolerances/a-mark-that-moves-is-in-the-register',
  'check-tolerances/a-noisy-day-is-said-before-its-repeats',
  'check-tolerances/a-point-beyond-its-limit-is-the-exit-code-and-a-failed-test',
  'check-tolerances/a-slant-taken-as-vertical-is-a-tie-with-the-antenna-height',
  'check-tolerances/control-columns-map-the-headers-of-the-control',
  'check-tolerances/days-of-a-register-stand-by-time',
  'check-tolerances/limits-say-which-term-governs',
  'check-tolerances/nssda-states-nothing-from-two-points',
  'check-tolerances/raw-fixes-are-counted-by-reason',
  'check-tolerances/the-class-of-each-point-is-written',
  'check-tolerances/the-control-of-an-older-datum-is-named',
  'check-tolerances/the-full-procedure-compares-campaigns',
  'check-tolerances/the-noise-of-a-day-is-in-its-checks',
  'check-tolerances/the-tolerance-of-a-session-is-a-limit-on-request',
  'check-tolerances/what-nothing-checked-in-an-adjustment-stays-so',
  'check-tolerances/what-the-reduction-left-for-review-stays-so',
  'check-tolerances/what-the-reduction-rejected-stays-rejected',
  'check-tolerances/without-a-limit-what-agrees-is-not-called-within',
  'plan-baseline/a-given-base-judges-every-point',
  'plan-baseline/a-line-far-outside-the-zone-is-warned-of',
  'plan-baseline/a-prediction-is-explained-term-by-term',
  'plan-baseline/an-instrument-by-drms-reaches-15-km-for-3-cm',
  'plan-baseline/bad-rows-are-skipped-on-request',
  'plan-baseline/the-best-free-place-over-the-180th-meridian',
  'plan-baseline/the-day-of-a-real-recording',
  'plan-baseline/the-day-of-a-recorded-stream',
  'plan-baseline/tolerances-below-the-constant-term-are-said-to-be',
  'plan-baseline/two-bases-are-tied-by-shared-points',
  'fit-site/a-ground-site-is-fitted-and-named',
  'fit-site/a-wrong-base-is-named',
  'fit-site/another-zone-is-named',
  'fit-site/benchmarks-without-a-place-hold-the-level',
  'fit-site/control-in-utm-is-named',
  'fit-site/exact-control-rounded-is-no-outlier',
  'fit-site/no-site-file-of-exchanged-names',
  'fit-site/the-grid-itself-is-named',
  'fit-site/two-names-exchanged-are-named',
  'fit-site/two-points-fit-and-nothing-checks-them',
  'fit-site/what-nothing-checked-is-said-of-a-fit',
  'fit-site/without-sigmas-the-residuals-speak',
  'adjust-network/a-base-known-by-an-earlier-day-is-where-that-day-has-it',
  'adjust-network/a-distance-in-its-air',
  'adjust-network/a-levelling-net-alone',
  'adjust-network/a-scale-of-a-base-is-kept',
  'adjust-network/control-determines-a-base-on-an-unknown-mark',
  'adjust-network/distortions-of-a-day',
  'adjust-network/one-vector-is-left-out-and-said',
  'adjust-network/the-days-planted-blunders-are-named',
  'adjust-network/two-heights-without-a-geoid-are-said',
  'adjust-network/what-one-vector-asks-for-is-no-distortion',
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
    // With --explain the page is of one point: that of the case is kept where it is of its working.
    const asked = name.includes('explained') ? line : line.replace(/ --explain \S+/u, '');
    const { exit, stderr } = await terminal.run(isLast ? `${asked} --report page.html` : line);
    if (exit > 1) throw new Error(stderr);
  }
  return readFileSync(join(work, 'page.html'), 'utf8');
}

describe('the text of a page', () => {
  it.each(PAGES)('%s', async (name) => {
    const html = await pageOf(name);
    // One minus on all pages: that of print. Commands, names and steps that a student types into a machine stay as they are.
    const words = textOfPage(
      html.replaceAll(/<(code|bdi)[^>]*>[^<]*<\/\1>|<(p|div) class="worked[^>]*>[^<]*<\/\2>/gu, ''),
    );
    expect(words.split('\n').filter((line) => /(?:^|[ (±,;:/])-\d/u.test(line))).toEqual([]);
    await expect(textOfPage(html)).toMatchFileSnapshot(`./pages/${name.replace('/', '--')}.txt`);
  });

  it('has a row of a table on a line, and no drawings', () => {
    const html =
      '<title>T</title><style>a{}</style><h1>A &amp; B</h1><table><tr><th>x</th><td>1</td></tr><tr><td>2</td></tr></table><figure><svg><text x="1">5 m</text></svg><figcaption>6</figcaption></figure>';
    expect(textOfPage(html)).toBe('T\nA & B\nx | 1\n2\n');
  });
});
