import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import { textOfPage } from '../../support/page-text.js';

const folder = folderWithExamples();

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Thirty points against control that is off by some millimetres, and by a bias to the west on request. */
async function opening(name: string, biasM: number): Promise<string> {
  const head = 'point_id,westing_m,southing_m,ellipsoidal_height_m';
  const rows = Array.from(
    { length: 30 },
    (_, i) => [`P${String(i)}`, -32000 - 90 * i, 3481000 + ((i * 37) % 30) * 80, 1000] as const,
  );
  const noise = (i: number, step: number): number => ((((i * step) % 15) - 7) * 0.4) / 1000;
  const text = (values: readonly (readonly (string | number)[])[]): string =>
    `${head}\n${values.map((row) => row.join(',')).join('\n')}\n`;
  writeFileSync(join(folder, `${name}-points.csv`), text(rows));
  writeFileSync(
    join(folder, `${name}-control.csv`),
    text(
      rows.map(([id, w, s, h], i) => [
        id,
        (w - biasM + noise(i, 4)).toFixed(4),
        (s + noise(i, 7)).toFixed(4),
        (h + noise(i, 11)).toFixed(4),
      ]),
    ),
  );
  const words = ['check-tolerances', `${name}-points.csv`, '--control', `${name}-control.csv`, '--system', 'EPSG:2049'];
  const limits = [
    '--standard',
    'nssda',
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.05',
    '--position-from',
    'grid',
  ];
  const { html } = await runWithReport(folder, [...words, ...limits], name);
  return textOfPage(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(html)?.[1] ?? '');
}

describe('what a standard lets one say on the first screen', () => {
  let biased: string;
  let sound: string;
  beforeAll(async () => {
    biased = await opening('biased', 0.0015);
    sound = await opening('sound', 0);
  });

  it('is silent on no bias that the standard assumes to be removed', () => {
    expect(biased).toMatch(/By the standard\..* a bias is significant.*Mean difference: westing 1\.5 mm/u);
    expect(biased).toContain('Next. Find the cause of the bias before the accuracy is stated');
    expect(sound).toMatch(/By the standard\. Horizontal accuracy/u);
    expect(sound).not.toContain('bias');
    expect(sound).toContain('Next. Nothing is open here.');
  });

  it('has its figures first, and what it asks and nobody judged among what was not done', () => {
    for (const text of [biased, sound]) {
      const lines = text.split('\n');
      expect(lines.find((line) => line.startsWith('By the standard.'))).not.toContain('not judged');
      expect(lines.find((line) => line.startsWith('Not done.'))).toContain(
        'Asked by the standard and not judged here: ',
      );
    }
  });
});
