import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'csv-parse/sync';
import { ROOT } from '../../support/repository-files.js';
import { openTerminal } from '../../support/run-command-line.js';
import { textOfPage } from '../../support/page-text.js';

// The page is held against the data file of the same run.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-panels-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the panels of occupations', () => {
  it.each([
    ['as they are', ''],
    ['joined', ' --combine'],
  ])('have the verdicts of the data file, where occupations disagree: %s', async (_, how) => {
    const day = join(ROOT, 'examples/quillback-pan');
    const line = `pegbook reduce-points ${day}/fixes.csv --session ${day}/session.toml${how} -o points.csv --report page.html --force`;
    await openTerminal(folder).run(line);
    const rows = parse<Record<string, string>>(readFileSync(join(folder, 'points.csv'), 'utf8'), { columns: true });
    const text = textOfPage(readFileSync(join(folder, 'page.html'), 'utf8'));
    const panels = new Map(
      [...text.matchAll(/^(\S+), occupation (\S+)\n(\w+) ·/gmu)].map(([, id, occupation, verdict]) => [
        `${id ?? ''}@${occupation ?? ''}`,
        verdict,
      ]),
    );
    const disputed = rows.filter(({ reasons }) => reasons?.includes('point-repeat-disagrees') === true);
    expect(disputed.length).toBeGreaterThan(1);
    for (const { point_id, occupation, verdict } of disputed)
      expect(panels.get(`${point_id ?? ''}@${occupation ?? ''}`)).toBe(verdict);
  });
});
