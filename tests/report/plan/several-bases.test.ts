import { rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

const folder = folderWithExamples();
const PLAN = 'examples/quillback-pan-plan';
const WORDS = ['plan-baseline', `${PLAN}/points.csv`, '--candidates', `${PLAN}/candidates.csv`];
const LIMITS = ['--system', 'EPSG:2049', '--limit-horizontal', '0.03', '--limit-vertical', '0.05'];
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Words beside the rings of the map, and its caption. */
async function coverageOf(more: readonly string[], name: string): Promise<{ words: readonly string[]; html: string }> {
  const { html } = await runWithReport(folder, [...WORDS, ...LIMITS, ...more], name);
  const map = html.slice(html.indexOf('id="coverage'), html.indexOf('</figure>', html.indexOf('id="coverage')));
  return { words: [...map.matchAll(/>([^<>]+ [\d.]+ km)</gu)].map(([, word = '']) => word), html: map };
}

describe('the coverage of a plan', () => {
  it('has about several bases the ranges of one condition, by the names of their bases', async () => {
    const { words, html } = await coverageOf(['--find-bases', '2'], 'two');
    expect(words.some((word) => /^(?:[A-Z] )?farm tower/u.test(word))).toBe(true);
    expect(words.filter((word) => /quiet|active/u.test(word))).toEqual([]);
    expect(html).toContain('usable range in normal conditions about each base');
    const one = await coverageOf([], 'one');
    expect(one.words.some((word) => word.includes('quiet'))).toBe(true);
    expect(one.html).toContain('quiet (dotted), normal (full) and active (dashed) conditions');
  });

  it('draws what is outside last, on top', async () => {
    const { html } = await coverageOf([], 'top');
    const signs = [...html.matchAll(/<use href="#coverage-(mark|bad)-/gu)].map(([, sign]) => sign);
    expect(signs).toContain('bad');
    expect(signs.lastIndexOf('mark')).toBeLessThan(signs.indexOf('bad'));
  });
});
