import { rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

// What the browser draws on a screen of 360 px, of the invented day with limits that its control fails. A figure scrolls sideways
// there; common practice, no published source: a reader who does not scroll must not see fewer failures than there are.
const folder = folderWithExamples();
const Q = 'examples/quillback-pan';
interface Found {
  /** Marks that fail in the drawings that scroll, and those of them to the right of the screen. */
  readonly failing: number;
  readonly beyond: number;
  /** Marks that fail in the small drawings above, those that can be seen, and words that can. */
  readonly above: readonly boolean[];
  readonly wordsAbove: number;
  readonly heavy: readonly string[];
  readonly said: readonly string[];
}

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

// The marks of the small drawing are those of the large one, used once more: where they lie is that of the one scaled to the other's frame.
const look = `(() => {
  const seen = { failing: 0, beyond: 0, above: [], wordsAbove: 0, heavy: [], said: [] };
  for (const figure of document.querySelectorAll('figure.wide')) {
    const [small, large] = [figure.querySelector('svg.whole-one'), figure.querySelector('.scroll svg')];
    const [frame, from] = [small.getBoundingClientRect(), large.getBoundingClientRect()];
    const style = getComputedStyle(small);
    seen.said.push(getComputedStyle(figure, '::before').content);
    seen.heavy.push(style.getPropertyValue('--heavy').trim());
    if (style.getPropertyValue('--letters').trim() !== 'hidden') seen.wordsAbove += 1;
    const used = small.querySelector('use').getBoundingClientRect();
    for (const mark of large.querySelectorAll('use[href*="-bad-"]')) {
      const box = mark.getBoundingClientRect();
      const isIn = document.querySelector(small.querySelector('use').getAttribute('href'))?.contains(mark) === true;
      const x = frame.left + ((box.left + box.width / 2 - from.left) * frame.width) / from.width;
      seen.failing += 1;
      if (box.left > innerWidth) seen.beyond += 1;
      seen.above.push(isIn && style.display !== 'none' && used.width > 0.8 * frame.width && x > 0 && x < innerWidth);
    }
  }
  return seen;
})()`;

describe.skipIf(!hasBrowser)('figures on a narrow screen', () => {
  it('stand whole above what scrolls, so that every mark that fails is in sight', async () => {
    const session = ['--session', `${Q}/session.toml`];
    await runWithReport(folder, ['reduce-points', `${Q}/fixes.csv`, ...session], 'reduce');
    const limits = ['--limit-horizontal', '0.02', '--limit-vertical', '0.03'];
    const { path } = await runWithReport(
      folder,
      ['check-tolerances', 'reduce-out.csv', ...session, '--control', `${Q}/control.csv`, '--repeats', ...limits],
      'check',
    );
    const browser = await openBrowser();
    try {
      const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
      await page.goto(`file://${path}`);
      const narrow = await page.evaluate<Found>(look);
      expect(narrow.failing).toBeGreaterThan(5);
      expect(narrow.beyond).toBeGreaterThan(0);
      expect(narrow.above).not.toContain(false);
      expect(narrow.wordsAbove).toBe(0);
      expect(new Set(narrow.heavy)).toEqual(new Set(['3.2']));
      for (const words of narrow.said) expect(words).toContain('it scrolls sideways');

      await page.setViewportSize({ width: 800, height: 900 });
      const wide = await page.evaluate<Found>(look);
      expect(wide.beyond).toBe(0);
      expect(wide.above).not.toContain(true);
      expect(new Set(wide.said)).toEqual(new Set(['none']));
    } finally {
      await browser.close();
    }
  }, 60_000);
});
