import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { folderWithExamples, runWithReport, writeFixes } from './report-pages.js';
import type { ReportRun } from './report-pages.js';

/** The page of every command for the same points. */
export interface SurveyPages {
  readonly reduce: ReportRun;
  readonly check: ReportRun;
  readonly plan: ReportRun;
  readonly site: ReportRun;
  readonly network: ReportRun;
  readonly carried: ReportRun;
  readonly joined: ReportRun;
}

export const PAGES = ['reduce', 'check', 'plan', 'site', 'network', 'carried', 'joined'] as const;

type Row = Readonly<Record<string, string>>;

/** A session for the points of `writeFixes`. `name` stands in places where a session, a base or a source has a name of its own. */
export function surveySession(name: string): string {
  const text = JSON.stringify(name);
  return `version = 1
title = ${text}
[system]
grid = "EPSG:2049"
[rover]
reference_point = "tip"
[acceptance]
min_satellites = 6
[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1044.5, at = "arp" }
`;
}

function quoted(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}

/** Reduces invented fixes of points of these names, then checks, plans, fits and adjusts with them; control is off by millimetres, every ninth by decimetres. */
export async function surveyPages(
  ids: readonly string[],
  name: string,
): Promise<{ readonly folder: string; readonly pages: SurveyPages }> {
  const folder = folderWithExamples();
  const put = (file: string, lines: readonly string[]): void => {
    writeFileSync(join(folder, file), `${lines.join('\n')}\n`);
  };
  writeFileSync(join(folder, 'day.toml'), surveySession(name));
  writeFixes(folder, 'fixes.csv', ids);
  const reduce = await runWithReport(folder, ['reduce-points', 'fixes.csv', '--session', 'day.toml'], 'reduce');
  const rows = reduce.rows;
  const off = (index: number, step: number): number =>
    (((index * step) % 21) - 10) / 1000 + (index % 9 === 4 ? 0.3 : 0);
  const number = (row: Row, column: string): number => Number(row[column]);
  put('again.csv', again(rows));
  put('control.csv', [
    'point_id,westing_m,southing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m,role,source',
    ...rows.map(
      (row, index) =>
        `${quoted(row['point_id'] ?? '')},${(number(row, 'westing_m') + off(index, 5)).toFixed(4)},${(number(row, 'southing_m') + off(index, 8)).toFixed(4)},${(number(row, 'ellipsoidal_height_m') + off(index, 13)).toFixed(4)},0.005,0.008,check,${quoted(name)}`,
    ),
  ]);
  put('site.csv', [
    'point_id,easting_m,northing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m,role,source',
    ...rows.map(
      (row, index) =>
        `${quoted(row['point_id'] ?? '')},${(60_000 - number(row, 'westing_m') + off(index, 5)).toFixed(4)},${(3_600_000 - number(row, 'southing_m') + off(index, 8)).toFixed(4)},${(number(row, 'ellipsoidal_height_m') + off(index, 13)).toFixed(4)},0.005,0.008,${index % 4 === 3 ? 'check' : 'fit'},${quoted(name)}`,
    ),
  ]);
  const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.1'];
  const check = await runWithReport(
    folder,
    [
      'check-tolerances',
      'again.csv',
      '--session',
      'day.toml',
      '--control',
      'control.csv',
      '--repeats',
      '--standard',
      'nssda',
      '--position-from',
      'grid',
      ...limits,
    ],
    'check',
  );
  put('candidates.csv', [
    'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m',
    `${quoted(name)},-31.6,21.2,1044`,
  ]);
  const day = [
    '--timetable',
    'timetable.csv',
    '--start-utc',
    '2026-03-04T06:00:00Z',
    '--speed',
    '60',
    '--stream',
    'msm4',
  ];
  const plan = await runWithReport(
    folder,
    [
      'plan-baseline',
      'reduce-out.csv',
      '--candidates',
      'candidates.csv',
      '--system',
      'EPSG:2049',
      '--pole-length',
      '2',
      '--base-sigma',
      '0.01,0.02',
      ...day,
      ...limits,
    ],
    'plan',
  );
  const site = await runWithReport(
    folder,
    [
      'fit-site',
      'reduce-out.csv',
      '--control',
      'site.csv',
      '--system',
      'EPSG:2049',
      '--site-axes',
      'easting_m,northing_m',
    ],
    'site',
  );
  put('few.csv', [
    'point_id,westing_m,southing_m,ellipsoidal_height_m',
    ...rows
      .slice(0, 3)
      .map((row) =>
        [quoted(row['point_id'] ?? ''), row['westing_m'], row['southing_m'], row['ellipsoidal_height_m']].join(','),
      ),
  ]);
  const network = await runWithReport(
    folder,
    ['adjust-network', 'again.csv', '--session', 'day.toml', '--control', 'few.csv', '--position-from', 'grid'],
    'network',
  );
  const carried = await runWithReport(
    folder,
    ['transform', 'reduce-out.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '--position-from', 'grid'],
    'carried',
  );
  const joined = await runWithReport(
    folder,
    ['join-points', 'reduce-out.csv', '--system', 'EPSG:2049', '--consecutive', '--position-from', 'grid'],
    'joined',
  );
  return { folder, pages: { reduce, check, plan, site, network, carried, joined } };
}

/** The points, and each again four hours later, some of them elsewhere. */
function again(rows: readonly Row[]): readonly string[] {
  const columns = Object.keys(rows[0] ?? {});
  const line = (row: Row): string => columns.map((column) => quoted(row[column] ?? '')).join(',');
  const later = (time: string | undefined): string =>
    new Date(Date.parse(time ?? '') + 14_400_000).toISOString().replace('.000', '');
  const second = rows.map((row, index) => ({
    ...row,
    occupation: '2',
    westing_m: (Number(row['westing_m']) + (index % 6 === 1 ? 0.2 : 0.004)).toFixed(4),
    first_epoch_utc: later(row['first_epoch_utc']),
    last_epoch_utc: later(row['last_epoch_utc']),
  }));
  return [columns.join(','), ...rows.map(line), ...second.map(line)];
}
