import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { textOfPage } from '../support/page-text.js';
import { folderWithExamples, runWithReport } from '../support/report-pages.js';

// What session and job state of a survey stands on the first screen of every page of it: when, from which bases, by whom, with what, for whom.
// The names are those that the invented job types; the times those of its files of fixes.
const JOB = ['--job', 'examples/quillback-pan-job/job.toml'];
const CREW =
  'Surveyor: A. Surveyor (invented). Observer: B. Observer (invented). With receiver R1, antenna A1 (invented); base B1: receiver R2, antenna A2 (invented); base B2: receiver R2, antenna A2 (invented). For the scheme\u2019s own water users (invented).';

const folder = folderWithExamples();
const surveyedOf = (html: string): string | undefined =>
  textOfPage(html)
    .replaceAll("'", '\u2019')
    .split('\n')
    .find((line) => line.startsWith('Surveyed.'));

beforeAll(async () => {
  await runWithReport(folder, ['reduce-points', ...JOB], 'job');
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('who measured, when and with what', () => {
  it.each([
    [
      'reduce-points',
      ['reduce-points', ...JOB],
      '2026-03-09 to 2026-03-11, from bases B1 (2 set-ups), B2 on 2026-03-11.',
    ],
    [
      'check-tolerances',
      ['check-tolerances', 'job-out.csv', ...JOB, '--limit-horizontal', '0.05'],
      '2026-03-09 to 2026-03-11, from bases B1 (2 set-ups), B2.',
    ],
    ['join-points', ['join-points', 'job-out.csv', ...JOB, '--consecutive'], '2026-03-09 to 2026-03-11.'],
    ['adjust-network', ['adjust-network', 'job-out.csv', ...JOB], '2026-03-09 to 2026-03-11.'],
    ['transform', ['transform', 'job-out.csv', ...JOB, '--to', 'EPSG:2048'], '2026-03-09 to 2026-03-11.'],
  ])('is said of a job by %s', async (name, words, when) => {
    const { html } = await runWithReport(folder, words, `who-${name}`);
    expect(surveyedOf(html)).toBe(`Surveyed. ${when} ${CREW}`);
  });

  it.each([
    ['transform', ['transform', 'job-out.csv', '--from', 'EPSG:2049', '--to', 'EPSG:2048']],
    ['design-grid', ['design-grid', 'job-out.csv', '--system', 'EPSG:2049', '--position-from', 'grid']],
    ['join-points', ['join-points', 'job-out.csv', '--system', 'EPSG:2049', '--consecutive']],
  ])('is the time alone where only the points state anything: %s', async (name, words) => {
    const { html } = await runWithReport(folder, words, `when-${name}`);
    expect(surveyedOf(html)).toBe('Surveyed. 2026-03-09 to 2026-03-11.');
  });

  it.each([
    ['transform', ['transform', 'examples/quillback-pan-site/points.csv', '--from', 'EPSG:2049', '--to', 'EPSG:2048']],
    ['design-grid', ['design-grid', 'examples/quillback-pan-site/points.csv', '--system', 'EPSG:2049']],
    [
      'join-points',
      ['join-points', 'examples/quillback-pan-site/points.csv', '--system', 'EPSG:2049', '--consecutive'],
    ],
  ])('is not invented where no input states it: %s', async (name, words) => {
    const { html } = await runWithReport(folder, words, `none-${name}`);
    expect(surveyedOf(html)).toBeUndefined();
  });
});
