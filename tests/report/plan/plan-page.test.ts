import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { runInProcess } from '../../support/run-in-process.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

const folder = folderWithExamples();
let plan: ReportRun;
let gridless: ReportRun;
let classes: ReportRun;

beforeAll(async () => {
  const work = [
    'plan-baseline',
    'examples/quillback-pan-plan/work.geojson',
    '--candidates',
    'examples/quillback-pan-plan/candidates.csv',
    '--need-cellular',
    '--control',
    'examples/quillback-pan-plan/control.csv',
  ];
  const limits = [
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.10',
    '--pole-length',
    '2',
    '--base-sigma',
    '0.01,0.02',
    '--spacing',
    '2000',
  ];
  const day = ['--stream', 'msm7', '--timetable', 'day.csv', '--start-utc', '2026-03-04T06:00:00Z', '--speed', '50'];
  plan = await runWithReport(folder, [...work, ...limits, ...day, '--system', 'EPSG:2049'], 'plan');
  const candidates = ['--candidates', 'examples/quillback-pan-plan/candidates.csv', '--system', 'EPSG:2049'];
  classes = await runWithReport(
    folder,
    ['plan-baseline', 'examples/quillback-pan-plan/points.csv', ...candidates, ...limits.slice(0, 8)],
    'classes',
  );
  gridless = await runWithReport(
    folder,
    ['plan-baseline', 'examples/quillback-pan-plan/work.geojson', '--base', '-31.5,21.4,1040', ...limits],
    'gridless',
  );
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a plan', () => {
  it('shows the predictions of the data file, place by place', () => {
    const rows = cellsOfTable(plan.html, 'Places.');
    expect(rows).toHaveLength(plan.rows.length);
    for (const row of plan.rows) {
      const cells = rows.find(([id]) => id === row['point_id']) ?? [];
      expect([cells[1], cells[2]]).toEqual([row['verdict'], row['base_id']]);
      expect([cells[4], cells[5], cells[6], cells[7]]).toEqual(
        ['circle_95_normal_m', 'tolerance_horizontal_m', 'vertical_95_normal_m', 'tolerance_vertical_m'].map(
          (name) => row[name],
        ),
      );
    }
  });

  it('holds coverage, the curves of three conditions, the timetable and the data budget', () => {
    for (const words of [
      'Coverage map',
      'quiet (dotted), normal (full) and active (dashed)',
      'Predicted 95 % in plan against distance',
      'Predicted 95 % in height against distance',
      'Timetable.',
      'Data budget.',
      'Billed in all',
      'Y, westing, km, grows to the left (west)',
    ]) {
      expect(plan.html.includes(words), words).toBe(true);
    }
  });

  it('says when the day begins and ends, how far is driven, and what its link costs, on the first screen', () => {
    const [header = '', ...lines] = readFileSync(join(folder, 'day.csv'), 'utf8').trim().split('\n');
    const heads = header.split(',');
    const column = (name: string): readonly string[] => lines.map((line) => line.split(',')[heads.indexOf(name)] ?? '');
    const km = column('drive_km').reduce((sum, text) => sum + Number(text), 0);
    const [from = ''] = column('arrive_utc').toSorted();
    const until = column('end_utc').toSorted().at(-1) ?? '';
    const hours = (Date.parse(until) - Date.parse('2026-03-04T06:00:00Z')) / 3_600_000;
    const opening = plainText(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(plan.html)?.[1] ?? '');
    expect(opening).toContain(
      `The day. 2026-03-04, ${from.slice(11, 16)} to ${until.slice(11, 16)} UTC, ${String(lines.length)} visits, ${km.toFixed(0)} km of driving.`,
    );
    // No --hours: the budget is of the day as it is laid out, in tenths of an hour.
    expect(opening).toContain(`MB billed in ${String(Math.ceil(hours * 10) / 10)} h.`);
    expect(plan.html).toContain(`at 1 Hz, for ${String(Math.ceil(hours * 10) / 10)} h,`);
  });

  it('draws each pair of tolerances with a sign and a line of its own, as often as the data file has it', () => {
    const pairOf = (row: Readonly<Record<string, string>>): string =>
      `${row['tolerance_horizontal_m'] ?? ''} ${row['tolerance_vertical_m'] ?? ''}`;
    const drawn = (name: string): number =>
      classes.html.match(new RegExp(`<use href="#coverage-${name}-`, 'gu'))?.length ?? 0;
    const pairs = [...new Set(classes.rows.map(pairOf))].sort();
    expect(pairs).toHaveLength(2);
    // The pair that reaches least is A, a circle; the other B, a square.
    for (const [index, symbol] of ['circle', 'square'].entries())
      for (const [verdict, mark] of [
        ['within', 'mark'],
        ['outside', 'bad'],
      ])
        expect(drawn(`${mark ?? ''}-${symbol}`)).toBe(
          classes.rows.filter((row) => pairOf(row) === pairs[index] && row['verdict'] === verdict).length,
        );
    expect(classes.html).toContain(
      'A (circle) 0.04 m in plan and 0.08 m in height; B (square) 0.05 m in plan and 0.1 m',
    );
    for (const word of ['A quiet', 'A normal', 'A active', 'B normal'])
      expect(classes.html.includes(`>${word} `), word).toBe(true);
    expect(classes.html.includes('>B quiet ')).toBe(false);
  });

  it('ranks the candidates as the JSON of the same run does', async () => {
    const { stdout } = await runInProcess(
      [
        'plan-baseline',
        'examples/quillback-pan-plan/points.csv',
        '--candidates',
        'examples/quillback-pan-plan/candidates.csv',
        '--system',
        'EPSG:2049',
        '--limit-horizontal',
        '0.05',
        '--limit-vertical',
        '0.10',
        '--pole-length',
        '2',
        '--base-sigma',
        '0.01,0.02',
        '--format',
        'json',
        '-q',
      ],
      { cwd: folder },
    );
    const ranking = (
      JSON.parse(stdout.toString()) as { readonly siting: { readonly ranking: readonly Record<string, unknown>[] } }
    ).siting.ranking;
    const shown = cellsOfTable(classes.html, 'Candidates.');
    expect(shown.map(([id, , ratio, , served]) => [id, Number(ratio), Number(served)])).toEqual(
      ranking.map((own) => [own['point_id'], Number(Number(own['worst_ratio']).toFixed(3)), own['served']]),
    );
    expect(shown.map(([, chosen]) => chosen)).toEqual(['chosen', ...ranking.slice(1).map(() => '')]);
  });

  it('draws distances from the base where no grid is set, and says what was not asked for', () => {
    expect(gridless.html.includes('distances and azimuths from base')).toBe(true);
    expect(gridless.html.includes('No timetable was asked for.')).toBe(true);
  });

  it.each(['plan', 'gridless'] as const)('is valid HTML: %s', async (name) => {
    expect(await htmlFaults({ plan, gridless }[name].html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, plan.path, EVERY_LOOK);
        await expectGoodPrint(browser, plan.path, plan.html);
        await expectGoodLooks(browser, gridless.path, SOME_LOOKS);
        await expectGoodPrint(browser, gridless.path, gridless.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
