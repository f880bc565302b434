import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import { textOfPage } from '../../support/page-text.js';

const folder = folderWithExamples();

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

// Invented: twelve points occupied twice, the second time 0.2 m to one side; control that one of them misses by 0.6 m on request.
async function opening(name: string, missedM: number): Promise<string> {
  const head =
    'point_id,occupation,westing_m,southing_m,ellipsoidal_height_m,sigma_east_m,sigma_north_m,sigma_up_m,base_id,first_epoch_utc,last_epoch_utc';
  const rows = [1, 2].flatMap((round) =>
    Array.from({ length: 12 }, (_, i) =>
      [
        `P${String(i)}`,
        round,
        -32000 - 90 * i + (round === 2 ? 0.2 : 0),
        3481000 + 80 * i,
        1000,
        0.01,
        0.01,
        0.02,
        'B1',
        `2026-03-04T0${String(4 + 4 * (round - 1))}:${String(10 + i)}:00Z`,
        `2026-03-04T0${String(4 + 4 * (round - 1))}:${String(10 + i)}:05Z`,
      ].join(','),
    ),
  );
  writeFileSync(join(folder, `${name}-points.csv`), `${head}\n${rows.join('\n')}\n`);
  const control = [3, 7].map(
    (i) => `P${String(i)},${String(-32000 - 90 * i + 0.1 - (i === 7 ? missedM : 0))},${String(3481000 + 80 * i)},1000`,
  );
  writeFileSync(
    join(folder, `${name}-control.csv`),
    `point_id,westing_m,southing_m,ellipsoidal_height_m\n${control.join('\n')}\n`,
  );
  const words = ['check-tolerances', `${name}-points.csv`, '--control', `${name}-control.csv`, '--repeats'];
  const limits = ['--system', 'EPSG:2049', '--limit-horizontal', '0.15', '--limit-vertical', '0.1'];
  const { html } = await runWithReport(folder, [...words, ...limits], name);
  return textOfPage(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(html)?.[1] ?? '');
}

describe('repeats that disagree by one vector', () => {
  it('ask for what changed between the rounds; control beyond its limit is to be looked at all the same', async () => {
    const asked = 'Find what changed between the two rounds (base, pole, settings) before any point is observed again.';
    expect(await opening('held', 0)).toContain(`${asked}\n`);
    expect(await opening('missed', 0.6)).toContain(`${asked} Then look at the control that is beyond, P7 first.`);
  });
});
