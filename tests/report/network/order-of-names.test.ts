import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport, writeFixes } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { surveySession } from '../../support/surveys.js';
import { cellsOfTable } from '../../support/table-cells.js';

// People read P2 before P10; the data file keeps the order that programs rely on.
const IDS = Array.from({ length: 12 }, (_, index) => `P${String(index + 1)}`);

describe('names on the page of a network', () => {
  let folder: string;
  let page: ReportRun;

  beforeAll(async () => {
    folder = folderWithExamples();
    writeFixes(folder, 'fixes.csv', IDS);
    writeFileSync(join(folder, 'own.toml'), surveySession('twelve'));
    await runWithReport(folder, ['reduce-points', 'fixes.csv', '--session', 'own.toml'], 'own');
    writeFileSync(
      join(folder, 'base.csv'),
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nB1,-31.5,21.4,1044.5\n',
    );
    page = await runWithReport(
      folder,
      ['adjust-network', 'own-out.csv', '--session', 'own.toml', '--control', 'base.csv'],
      'net',
    );
  }, 120_000);

  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  const shown = (caption: string, column: number): readonly (string | undefined)[] =>
    cellsOfTable(page.html, caption)
      .map((cells) => cells[column])
      .filter((id) => id !== 'B1');

  it('stand in the order of their numbers among stations and observations', () => {
    expect(shown('Stations.', 0)).toEqual(IDS);
    expect([...new Set(shown('Observations.', 1))]).toEqual(IDS);
  });

  it('stand in the file by code point', () => {
    const written = page.rows.map((row) => row['point_id']).filter((id) => id !== 'B1');
    expect(written).toEqual([...IDS].sort());
  });
});
