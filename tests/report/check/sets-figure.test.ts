import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { textOfPage } from '../../support/page-text.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';

const folder = folderWithExamples();
const SERIES = ['check-tolerances', 'examples/quillback-pan-check/series.csv', '--standard', 'iso-17123-8'];
const NOMINAL = ['--nominal-distance', '13', '--sigma-horizontal', '0.015', '--sigma-vertical', '0.025'];
let good: ReportRun;
let bad: ReportRun;

beforeAll(async () => {
  good = await runWithReport(folder, [...SERIES, ...NOMINAL, '--nominal-height-difference', '0.21'], 'good');
  bad = await runWithReport(folder, [...SERIES, ...NOMINAL, '--nominal-height-difference', '0.3'], 'bad');
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const drawn = (html: string, mark: string): number =>
  html.match(new RegExp(`<use href="#sets-${mark}-`, 'gu'))?.length ?? 0;

describe('the page of a field procedure', () => {
  it('leads with its statements and draws both differences of its fifteen sets', () => {
    expect(good.html).toContain('<h1><bdi>Field procedure against its standard</bdi></h1>');
    expect(good.html).toMatch(/<b>Within\.<\/b> 5 statements, none fails\./u);
    expect(good.html).not.toContain('0 comparisons');
    // Symbols as they are printed, not as they are typed.
    expect(good.html).toContain('s<sub>xy</sub> against σ<sub>xy</sub>');
    expect(textOfPage(good.html)).not.toMatch(/[sσ]_/u);
    expect(good.rows).toHaveLength(15);
    expect([drawn(good.html, 'mark-circle'), drawn(good.html, 'doubt-square')]).toEqual([15, 15]);
  });

  it('marks as many sets as the data file has beyond the limit in height', () => {
    const beyond = bad.rows.filter((row) => Math.abs(Number(row['height_error_m'])) > Number(row['height_limit_m']));
    expect(beyond.length).toBeGreaterThan(3);
    expect(drawn(bad.html, 'bad-cross')).toBe(beyond.length);
    expect(bad.html).toMatch(/<b>Gross-error screen\.<\/b>/u);
    // By name, by how much and in which axis, and what to do about it.
    const [worst] = beyond.toSorted(
      (a, b) => Math.abs(Number(b['height_error_m'])) - Math.abs(Number(a['height_error_m'])),
    );
    const [series, set] = [worst?.['series'], worst?.['set']];
    const opening = textOfPage(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(bad.html)?.[1] ?? '');
    expect(opening).toContain(`series ${String(series)} set ${String(set)}`);
    const millimetres = (1000 * Number(worst?.['height_error_m'])).toFixed(2).replace('-', '\u2212');
    expect(opening).toContain(`${millimetres} mm in height`);
    expect(opening).toMatch(/Next\. See what was different at series \d/u);
    expect(opening).not.toMatch(/(?:^|[ (])-\d/mu);
  });

  it('says who measured with what, and what of that no input states', async () => {
    const opening = (html: string): string =>
      textOfPage(html)
        .split('\n')
        .filter((line) => /^(?:Surveyed|Not stated)\./u.test(line))
        .join(' ');
    expect(opening(good.html)).toBe(
      'Not stated. The equipment, the observer and the date: write them on the page before it is kept.',
    );
    // The words of a session that a person would write; the date is in no file of series.
    const session = join(folder, 'own.toml');
    writeFileSync(
      session,
      'version = 1\n[fieldwork]\nobserver = "O. One (invented)"\ninstrument = "receiver R7 (invented)"\n',
    );
    const own = [...SERIES, ...NOMINAL, '--nominal-height-difference', '0.21', '--session', 'own.toml'];
    expect(opening((await runWithReport(folder, own, 'own')).html)).toBe(
      'Surveyed. Observer: O. One (invented). With receiver R7 (invented). Not stated. The date: write it on the page before it is kept.',
    );
  });
});
