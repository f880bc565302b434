import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

// The invented hour with a stream of its own: what was planted in it (its README says) is what the page has to name, and its figures
// are those of the tables that the same run writes.
const folder = folderWithExamples();
const HOUR = 'examples/quillback-pan-link';
const signed = (text: string | undefined): number => Number((text ?? '').replace('\u2212', '-'));
let whole: ReportRun;
let link: ReportRun;
let stream: ReportRun;
let day: ReportRun;
let outages: readonly Readonly<Record<string, string>>[];

beforeAll(async () => {
  const command = 'inspect-corrections';
  const fixes = ['--fixes', `${HOUR}/fixes.csv`, '--session', `${HOUR}/session.toml`];
  whole = await runWithReport(folder, [command, `${HOUR}/base.rtcm3`, ...fixes, '--outages', 'gone.csv'], 'whole');
  link = await runWithReport(folder, [command, ...fixes], 'link');
  stream = await runWithReport(folder, [command, `${HOUR}/base.rtcm3`], 'stream');
  day = await runWithReport(folder, ['reduce-points', ...fixes.slice(1)], 'day');
  outages = parse(readFileSync(join(folder, 'gone.csv')), { columns: true });
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const openingOf = ({ html }: ReportRun): string =>
  plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(html)?.[1] ?? '');

describe('the page of recorded corrections', () => {
  it('begins with the answer, the base that differs by its axis, the longest outage with its side, and what to do', () => {
    const opening = openingOf(whole);
    expect(opening).toContain('Not within.');
    expect(opening).toContain(
      'The farthest is B1: the antenna that was sent lies 0.342 m west of that of the session.',
    );
    // One total: those that came damaged are of it. Findings that are counted are rows of the table.
    expect(opening).toMatch(/1 station in 2672 frames, .*; 1 of them damaged;/u);
    const findings = cellsOfTable(whole.html, 'What to look at.').length;
    expect(opening).toContain(` ${String(findings - 1)} more findings below.`);
    expect(opening).toContain(
      '2 outages, the longest 102 s from 2026-03-04, 07:52:06 UTC at L-21, L-22: the base sent',
    );
    expect(opening).toContain('Next: look at the rover');
    expect(openingOf(stream)).toContain('No session was named');
    expect(openingOf(link)).toContain('No stream was named');
  });

  it('writes the number of an outage into its diamond, so that no dark square lies under it', () => {
    const drawing = /<svg [^>]*aria-labelledby="link1-cells-t[\s\S]*?<\/svg>/.exec(whole.html)?.[0] ?? '';
    const diamonds = [...drawing.matchAll(/class="doubt" d="M([\d.]+) ([\d.]+)L([\d.]+) /gu)].map(([, left, y, x]) => ({
      x: Number(x),
      y: Number(y),
      half: Number(x) - Number(left),
    }));
    const numbers = [...drawing.matchAll(/<text x="([\d.]+)" y="([\d.]+)" class="m s">(\d+)</gu)].map(
      ([, x, y, text]) => ({ x: Number(x), y: Number(y) - 3.5, text }),
    );
    expect(diamonds).toHaveLength(outages.length);
    expect(numbers.map(({ text }) => text)).toEqual(outages.map((_, index) => String(index + 1)));
    for (const [index, { x, y }] of numbers.entries()) {
      expect(Math.abs(x - (diamonds[index]?.x ?? 0))).toBeLessThan(0.2);
      expect(Math.abs(y - (diamonds[index]?.y ?? 0))).toBeLessThan(0.2);
      // A figure of a number is six wide and eight high.
      expect(diamonds[index]?.half).toBeGreaterThan(9);
    }
  });

  it('shows the messages of the data file, and draws a row for each that came at a known time', () => {
    const shown = cellsOfTable(whole.html, 'Messages.');
    expect(shown.map(([station, number, count, bytes]) => [station, number, count, bytes])).toEqual(
      whole.rows.map((row) => [row['station_id'], row['number'], row['count'], row['bytes']]),
    );
    for (const [index, row] of whole.rows.entries())
      expect(signed(shown[index]?.[4])).toBeCloseTo(100 * Number(row['share']), 0);
    const drawing = /<svg [^>]*aria-labelledby="messages-drawn-t[\s\S]*?<\/svg>/.exec(whole.html)?.[0] ?? '';
    const timed = whole.rows.filter((row) => row['first_utc'] !== '');
    expect(drawing.split('class="dots"').length - 1).toBe(timed.length);
    for (const { number } of timed) expect(drawing).toContain(`1: ${number ?? ''}</text>`);
  });

  it('shows the outages of the data file, the longest first, with the side each is put down to', () => {
    const words: Readonly<Record<string, string>> = { base: 'the base was silent', rover: 'the base sent, the rover' };
    const shown = cellsOfTable(whole.html, 'Outages.');
    const ordered = outages.toSorted((a, b) => Number(b['duration_s']) - Number(a['duration_s']));
    expect(shown).toHaveLength(2);
    for (const [index, row] of ordered.entries()) {
      const [number, from, length, age, side, points] = shown[index] ?? [];
      expect([number, from, length, age]).toEqual([
        String(index + 1),
        row['from_utc']?.replace('T', ', ').replace('Z', ''),
        row['duration_s'],
        row['largest_age_s'],
      ]);
      expect(side).toContain(words[row['side'] ?? ''] ?? 'no such side');
      expect(points).toBe((row['point_ids'] ?? '').replaceAll(';', ', '));
    }
    expect(whole.html.split('class="gone"').length - 1).toBe(2);
  });

  it('shows what was sent against the session, with the line that mends it once', () => {
    const shown = cellsOfTable(whole.html, 'Bases against the stream.');
    // Planted: the base broadcast 0.342 m to the west, the antenna went up by 53 mm at 07:40.
    expect(shown.map((cells) => [signed(cells[3]), signed(cells[8]), cells[11]])).toEqual([
      [-0.342, 0, 'no'],
      [-0.342, -0.053, 'no'],
    ]);
    expect(whole.html.split('<code>broadcast = ').length - 1).toBe(1);
    expect(cellsOfTable(whole.html, 'Coordinates sent.').map((cells) => cells[6])).toEqual(['1.6000', '1.6530']);
  });

  it('writes instants as people do, in tables as on the first screen', () => {
    for (const { html } of [whole, link, stream, day])
      expect(
        plainText(html.replaceAll(/<(style|code)[^>]*>[\s\S]*?<\/\1>/gu, '')).match(/\d{4}-\d{2}-\d{2}T[\d:]+/gu),
      ).toBeNull();
    expect(cellsOfTable(whole.html, 'Outages.').map((cells) => cells[1])).toEqual([
      '2026-03-04, 07:52:06',
      '2026-03-04, 07:22:06',
    ]);
  });

  it('is about what was named: no link without fixes, no messages without a stream', () => {
    expect(stream.html.includes('id="link"')).toBe(false);
    expect(link.html.includes('id="messages"')).toBe(false);
    expect(cellsOfTable(link.html, 'Outages.').map((cells) => cells[4])).toEqual([
      'which side is not known',
      'which side is not known',
    ]);
  });

  it('is valid HTML', async () => {
    for (const { html } of [whole, link, stream, day]) expect(await htmlFaults(html)).toEqual([]);
  }, 60_000);

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, whole.path, EVERY_LOOK);
        await expectGoodPrint(browser, whole.path, whole.html);
        await expectGoodLooks(browser, day.path, SOME_LOOKS);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});

describe('the page of a reduction whose epochs say how old their corrections were', () => {
  it('has the link of the day, with the same outages', () => {
    const shown = cellsOfTable(day.html, 'Outages.');
    expect(shown.map(([number, from, length, age]) => [number, from, length, age])).toEqual(
      cellsOfTable(link.html, 'Outages.').map(([number, from, length, age]) => [number, from, length, age]),
    );
    expect(cellsOfTable(day.html, 'Availability by the hour.')).toEqual(
      cellsOfTable(link.html, 'Availability by the hour.'),
    );
  });
});
