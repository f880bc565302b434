import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { textOfPage } from '../../support/page-text.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

const folder = folderWithExamples();
const EXAMPLE = 'examples/quillback-pan-network';
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the first screen of a network', () => {
  it('says that nothing checks the one control that holds it, and nothing of the kind where others do', async () => {
    const control = readFileSync(join(folder, EXAMPLE, 'control.csv'), 'utf8')
      .trim()
      .split('\n');
    writeFileSync(join(folder, 'one.csv'), `${control.slice(0, 2).join('\n')}\n`);
    const words = ['adjust-network', '--vectors', `${EXAMPLE}/vectors.csv`, '--system', 'EPSG:2049', '--control'];
    const alone = textOfPage((await runWithReport(folder, [...words, 'one.csv'], 'alone')).html);
    expect(alone).toMatch(/\nFor review\. 7 stations, .* No observation fails; nothing checks 1 station\.\n/u);
    expect(alone).toContain('\nWhy. Nothing checks QN-1, the control that alone holds it.\n');
    const tied = textOfPage((await runWithReport(folder, [...words, `${EXAMPLE}/control.csv`], 'tied')).html);
    expect(tied).not.toContain('the control that alone holds it');
  });
});
