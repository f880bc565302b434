import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { columnHead } from '../../../src/report/page/words/column-head.js';
import { PAGE_RUNS, runEveryPage } from '../../support/page-runs.js';
import type { PageName, PageRuns } from '../../support/page-runs.js';
import { BESIDE, disagreements, number, tablesOf, textAt, words } from '../../support/read-page.js';
import type { CellCheck, DataRow, ReadTable } from '../../support/read-page.js';
import { plainText } from '../../support/table-cells.js';
import { plantFailures } from './planted.js';
import { AS_THEY_STAND, HELD_ELSEWHERE, TABLES } from './table-rows.js';

// Every table of every kind of page against the data of the same run: ids all there, numbers equal to the digits printed, verdicts word for word.
// A table that no row covers fails the last test.
const NAMES = Object.keys(PAGE_RUNS) as PageName[];
let runs: PageRuns;

beforeAll(async () => {
  runs = await runEveryPage(plantFailures);
}, 300_000);

afterAll(() => {
  rmSync(runs.folder, { recursive: true, force: true });
});

/** The first screen. */
function openingOf(html: string): string {
  return plainText(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(html)?.[1] ?? '');
}

function tableOf(page: PageName, name: string): ReadTable {
  const found = tablesOf(runs.of(page).html).find((table) => table.name === name);
  if (found === undefined) throw new Error(`no table ${name} on the page ${page}`);
  return found;
}

describe('a table of a page says what the data of the run says', () => {
  it.each(TABLES.map((row) => [`${row.page}: ${row.name}`, row] as const))(
    '%s',
    (_, { page, name, data, keys, checks }) => {
      const rows = data(runs.of(page));
      expect(rows.length).toBeGreaterThan(0);
      expect(disagreements(tableOf(page, name), rows, keys, checks)).toEqual([]);
    },
  );

  it.each(AS_THEY_STAND)('%s: %s', (page, name, keys) => {
    const { rows } = runs.of(page);
    const table = tableOf(page, name);
    const heads = new Map(
      Object.keys(rows[0] ?? {}).map((column) => {
        const { head, unit } = columnHead(column, false);
        return [
          column === 'point_id' && page === 'carried' ? 'Point' : unit === undefined ? head : `${head}, ${unit}`,
          column,
        ] as const;
      }),
    );
    const checks = Object.fromEntries(
      table.heads.map((head): readonly [string, CellCheck] => {
        const column = heads.get(head);
        if (column === undefined) return [head, BESIDE];
        return [head, /_(?:m|deg|arcsec|m2)$|factor|corners/u.test(column) ? number(column) : words(column)];
      }),
    );
    // What stands beside the columns of the file is few and known.
    expect(
      table.heads.filter(
        (head) => !heads.has(head) && !/^(?:Circle 95 %, mm, of the (?:fit|point)|Reasons)$/u.test(head),
      ),
    ).toEqual([]);
    const shown = [...heads].flatMap(([head, column]) => (keys.includes(column) ? [head] : []));
    expect(shown).toHaveLength(keys.length);
    expect(disagreements(table, rows, shown, checks)).toEqual([]);
  });
});

describe('every page', () => {
  it.each(NAMES)('begins with the answer that the data and the exit code give: %s', (page) => {
    const { html, exit, json } = runs.of(page);
    const opening = /<div class="verdict">\s*<p><b>([^<]*)<\/b>/u.exec(html)?.[1] ?? '';
    const word = ['Within.', 'For review.', 'Not within.'].indexOf(opening === 'Done.' ? 'Within.' : opening);
    expect(word, opening).toBeGreaterThanOrEqual(0);
    expect(word === 2, opening).toBe(exit === 1);
    const summary = json['summary'] as Readonly<Record<string, unknown>> | undefined;
    if (summary?.['verdict'] !== undefined) expect(['within', 'review', 'no'][word]).toBe(summary['verdict']);
  });

  it.each(NAMES)('says what to do next and what was not done: %s', (page) => {
    const opening = openingOf(runs.of(page).html);
    expect(opening).toMatch(/Next[.:] \S.{19}/u);
    expect(opening).toMatch(/Not done\. \p{Lu}.{9}/u);
  });

  it.each([
    ['reduce', 'reduce'],
    ['job', 'job'],
    ['check', 'reduce'],
  ] as const)('of points that state their times says at the top when they were measured: %s', (page, points) => {
    const { rows } = runs.of(points);
    const times = rows.flatMap((row) => [textAt(row, 'first_epoch_utc'), textAt(row, 'last_epoch_utc')]);
    const sorted = times.filter((time) => time !== '').sort();
    const [first = '', last = ''] = [sorted[0], sorted[sorted.length - 1]];
    const day = (time: string): string => time.slice(0, 10);
    const when =
      day(first) === day(last)
        ? `${day(first)}, ${first.slice(11, 16)} to ${last.slice(11, 16)} UTC`
        : `${day(first)} to ${day(last)}`;
    expect(openingOf(runs.of(page).html)).toContain(`Surveyed. ${when}, from base`);
  });

  it('of a network gives control that its test refuses no other verdict as a station', () => {
    const refused = tableOf('network', 'Control.').rows.flatMap(([id, agrees]) => (agrees === 'no' ? [id] : []));
    expect(refused.length).toBeGreaterThan(0);
    const stations = tableOf('network', 'Stations.').rows;
    for (const id of refused) expect(stations.find(([own]) => own === id)?.[1]).toBe('rejected');
  });

  // The order that a reader who stops early needs: what fails, what is for review, the rest. The words are those of the tables.
  it.each([
    ['reduce', 'Points.', ['rejected', 'review', 'accepted']],
    ['check', 'Comparisons.', ['no', 'review', 'within']],
    ['plan', 'Places.', ['outside', 'within']],
    ['site', 'Fitted.', ['no', 'review', 'within']],
  ] as const)('has what fails first, its verdict beside the name: %s', (page, name, order) => {
    const { heads, rows } = tableOf(page, name);
    const column = heads.indexOf('Verdict');
    // Nothing but an occupation and a kind stands between them.
    expect(heads.slice(1, column).filter((head) => head !== 'Occ.' && head !== 'Check')).toEqual([]);
    const needs = rows.map((row) =>
      order.indexOf(textAt({ verdict: row[column] ?? '' }, 'verdict').split(',')[0] as never),
    );
    expect(needs).not.toContain(-1);
    expect(needs).toEqual(needs.toSorted((a, b) => a - b));
    expect(new Set(needs).size).toBeGreaterThan(1);
  });

  it('has of comparisons that fail the farthest beyond its limit first', () => {
    const { rows } = runs.of('check');
    const at = (row: DataRow, column: string): number => Number(textAt(row, column));
    const ofRow = (row: DataRow): number =>
      Math.max(
        Math.hypot(at(row, 'difference_westing_m'), at(row, 'difference_southing_m')) / at(row, 'horizontal_limit_m'),
        Math.abs(at(row, 'difference_height_m')) / at(row, 'vertical_limit_m'),
      );
    const worst = rows.filter((row) => row['verdict'] === 'no').toSorted((a, b) => ofRow(b) - ofRow(a))[0];
    expect(tableOf('check', 'Comparisons.').rows[0]?.slice(0, 2)).toEqual([worst?.['point_id'], worst?.['occupation']]);
  });

  it.each(NAMES)('names the files that were read with their bytes and digests: %s', (page) => {
    const files = readdirSync(runs.folder, { recursive: true, encoding: 'utf8' }).map((path) =>
      join(runs.folder, path),
    );
    for (const [name = '', , bytes = '', , , digest = ''] of tableOf(page, 'Files read.').rows) {
      const found = files
        .filter((path) => basename(path) === name && existsSync(path))
        .map((path) => readFileSync(path));
      const own = found.find((content) => createHash('sha256').update(content).digest('hex') === digest);
      expect(own === undefined ? null : String(own.length), name).toBe(bytes);
    }
  });

  it.each(NAMES)('explains every reason of its data: %s', (page) => {
    const { html, rows } = runs.of(page);
    const codes = new Set(
      rows.flatMap((row) => (row['reasons'] === undefined ? [] : textAt(row, 'reasons').split(';'))),
    );
    codes.delete('');
    // Plans and skies say them in words beside each row.
    if (!tablesOf(html).some(({ heads }) => heads.includes('Reasons'))) return;
    for (const code of codes) expect(html.includes(code), code).toBe(true);
    const said = tablesOf(html).find(({ name }) => name === 'What the reasons mean.');
    if (said === undefined) return;
    const explained = said.rows.map(([code]) => code);
    expect([...codes].filter((code) => !explained.includes(code))).toEqual([]);
    const at = said.heads.indexOf('Points');
    if (at < 0) return;
    for (const row of said.rows)
      expect(row[at], row[0]).toBe(
        // Points, however often each was occupied.
        String(
          new Set(
            rows.flatMap((own) =>
              textAt(own, 'reasons')
                .split(';')
                .includes(row[0] ?? '')
                ? [textAt(own, 'point_id')]
                : [],
            ),
          ).size,
        ),
      );
  });

  it('has no table that nothing holds', () => {
    const covered = new Set([
      ...TABLES.map(({ page, name }) => `${page}: ${name}`),
      ...AS_THEY_STAND.map(([page, name]) => `${page}: ${name}`),
    ]);
    const open = NAMES.flatMap((page) =>
      tablesOf(runs.of(page).html).flatMap(({ name }) =>
        covered.has(`${page}: ${name}`) ||
        HELD_ELSEWHERE[name] !== undefined ||
        HELD_ELSEWHERE[`${page}: ${name}`] !== undefined
          ? []
          : [`${page}: ${name}`],
      ),
    );
    expect(open).toEqual([]);
  });
});

describe('the comparison', () => {
  it('notices a digit, a word, a row and a column that are not of the data', () => {
    const table: ReadTable = {
      name: 'T.',
      caption: 'T.',
      heads: ['P', 'E, mm'],
      rows: [
        ['A', '1.2'],
        ['B', '−3.4'],
      ],
    };
    const data = [
      { id: 'A', e_m: '0.0012' },
      { id: 'B', e_m: '-0.0034' },
    ];
    const checks = { P: words('id'), 'E, mm': number('e_m', 1000) };
    expect(disagreements(table, data, ['P'], checks)).toEqual([]);
    expect(disagreements(table, [data[0]!, { id: 'B', e_m: '0.0034' }], ['P'], checks)).toHaveLength(1);
    expect(disagreements(table, [data[0]!, { id: 'B', e_m: '-0.0036' }], ['P'], checks)).toHaveLength(1);
    expect(disagreements(table, [data[0]!, { id: 'C', e_m: '-0.0034' }], ['P'], checks)).toHaveLength(1);
    expect(disagreements(table, [...data, { id: 'C', e_m: '' }], ['P'], checks)).toHaveLength(1);
    expect(
      disagreements({ ...table, caption: 'T. 2 of 3 are shown' }, [...data, { id: 'C', e_m: '' }], ['P'], checks),
    ).toEqual([]);
    expect(disagreements({ ...table, heads: ['P', 'N, mm'] }, data, ['P'], checks)).toHaveLength(1);
  });
});
