import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { textOfPage } from '../../support/page-text.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import { runInProcess } from '../../support/run-in-process.js';
import { cellsOfTable } from '../../support/table-cells.js';

// Raw fixes of the invented day by the limits of its session: the page has what the terminal says, and the day's own reduction
// says of the same stands.
const folder = folderWithExamples();
const SESSION = ['--session', 'examples/quillback-pan/session.toml'];
const FIXES = ['check-tolerances', ...SESSION, '--fixes', 'examples/quillback-pan/fixes.csv'];
let html: string;
let said: string;
let rejected: readonly string[];

beforeAll(async () => {
  ({ html } = await runWithReport(folder, FIXES, 'fixes'));
  said = (await runInProcess(FIXES, { cwd: folder })).stderr;
  const day = await runWithReport(folder, ['reduce-points', 'examples/quillback-pan/fixes.csv', ...SESSION], 'day');
  rejected = day.rows.filter((row) => row['verdict'] === 'rejected').map((row) => row['point_id'] ?? '');
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of raw fixes', () => {
  it('says on its first screen how many are accepted, when they were measured, and each stand that makes no point', () => {
    const [, accepted, seen] = /fixes: (\d+) of (\d+) accepted/u.exec(said) ?? [];
    expect(Number(seen)).toBeGreaterThan(1000);
    const opening = textOfPage(/<div class="verdict">[\s\S]*?<\/div>/u.exec(html)?.[0] ?? '');
    expect(opening).toContain(`${accepted ?? '?'} of ${seen ?? '?'} epochs accepted`);
    expect(opening).toMatch(/^Surveyed\. 2026-03-04, \d{2}:\d{2} to \d{2}:\d{2} UTC\.$/mu);
    expect(opening).not.toContain('0 comparisons');
    expect(rejected.length).toBeGreaterThan(1);
    for (const id of rejected) expect(opening).toContain(id);
  });

  it('has the counts of the terminal by reason', () => {
    const counts = [...said.matchAll(/^ {2}(\d+) ([a-z\d-]+): /gmu)].map(([, count, code]) => [code, count]);
    expect(counts.length).toBeGreaterThan(4);
    const shown = [
      ...cellsOfTable(html, 'Epochs refused.'),
      ...cellsOfTable(html, 'Stands that make no point, or are in doubt.'),
    ];
    expect(shown.map(([code, count]) => [code, count])).toEqual(counts);
  });
});
