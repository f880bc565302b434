import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import { independentCsv } from '../independent-csv.js';
import { largeSurvey, SURVEY_SESSION } from './large-survey.js';
import type { Survey } from './large-survey.js';
import { csvBytes, permuted, PLAIN } from './survey-forms.js';
import type { CsvForm } from './survey-forms.js';

// The points of a large survey, its control, its design, its lines and its candidates, each written in every way that
// means the same: every command that reads points gives the same answer, whatever the form of whichever table.
let folder = '';
const tables = new Map<string, Survey>();

/** The words of a command; points.csv and the tables beside it are put into another form by name. */
const COMMANDS: Readonly<Record<string, readonly string[]>> = {
  'check-tolerances, control': [
    'check-tolerances',
    'points.csv',
    '-s',
    'session.toml',
    '--control',
    'control.csv',
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.1',
    '--position-from',
    'grid',
  ],
  'check-tolerances, design and repeats': [
    'check-tolerances',
    'points.csv',
    '-s',
    'session.toml',
    '--design',
    'design.csv',
    '--repeats',
    '--position-from',
    'grid',
  ],
  'join-points': ['join-points', 'points.csv', '-s', 'session.toml', '--pairs', 'lines.csv', '--position-from', 'grid'],
  'fit-site': [
    'fit-site',
    'single.csv',
    '--control',
    'site.csv',
    '--system',
    'EPSG:2049',
    '--site-axes',
    'easting_m,northing_m',
    '--position-from',
    'grid',
    '-o',
    'site.json',
    '--residuals',
    'residuals.csv',
    '--force',
  ],
  'plan-baseline': [
    'plan-baseline',
    'points.csv',
    '--system',
    'EPSG:2049',
    '--candidates',
    'candidates.csv',
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.1',
    '--pole-length',
    '2',
    '--base-sigma',
    '0.01,0.02',
    '--position-from',
    'grid',
  ],
  'transform from a grid': [
    'transform',
    'points.csv',
    '--from',
    'EPSG:2049',
    '--to',
    'EPSG:32734',
    '--operation',
    'EPSG:1505',
  ],
  'transform from degrees': ['transform', 'degrees.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2048'],
};
const TABLES = [
  'points.csv',
  'degrees.csv',
  'single.csv',
  'control.csv',
  'design.csv',
  'lines.csv',
  'site.csv',
  'candidates.csv',
] as const;

/** What a GeoJSON file of ours says of its frame beside the columns of a CSV file. */
const FRAME = ['frame', 'frame_epoch_year', 'system'];

const textOf = (name: string): string => readFileSync(join(folder, name), 'utf8');
function put(name: string, table: Survey, form: Partial<CsvForm> = {}): void {
  writeFileSync(join(folder, name), csvBytes(table, { ...PLAIN, ...form }));
}

/** Everything an answer says, columns by their names: what passes through has the order of the file. */
async function answer(words: readonly string[]): Promise<Readonly<Record<string, unknown>>> {
  const { exit, stdout, stderr } = await runInProcess([...words, '--record', 'record.json', '--force'], {
    cwd: folder,
  });
  const outputs = words[0] === 'fit-site' ? [textOf('residuals.csv')] : [stdout.toString('utf8')];
  const { verdict_counts, reason_counts, problems, inputs } = JSON.parse(textOf('record.json')) as Record<
    string,
    unknown
  >;
  const rows = (inputs as { rows_read: number; rows_used: number }[]).map(({ rows_read, rows_used }) => [
    rows_read,
    rows_used,
  ]);
  const { inputs: _inputs, ...site } = (words[0] === 'fit-site' ? JSON.parse(textOf('site.json')) : {}) as Record<
    string,
    unknown
  >;
  // A list of columns has the order of the file, and a feature says its frame too.
  const inOrder = (line: string): string =>
    line.replace(
      /^(left out, [^:]+: )(.*)$/u,
      (_, words: string, list: string) =>
        words +
        list
          .split(', ')
          .filter((name) => !FRAME.includes(name))
          .sort()
          .join(', '),
    );
  const named = (text: string): string =>
    inOrder(text).replaceAll(
      /\b(points|degrees|single|control|design|lines|site|candidates)\.(?:csv|geojson|json)(?::\d+)*/gu,
      '$1',
    );
  return {
    exit,
    said: stderr.split('\n').map(named),
    tables: outputs.map(byName),
    verdict_counts,
    reason_counts,
    problems,
    rows,
    site,
  };
}

function byName(text: string): readonly string[] {
  const [header = [], ...rows] = independentCsv(text, ',') ?? [];
  const order = header
    .map((_, column) => column)
    .filter((column) => !FRAME.includes(header[column] ?? ''))
    .sort((a, b) => ((header[a] ?? '') < (header[b] ?? '') ? -1 : 1));
  return [header, ...rows].map((row) => order.map((column) => row[column]).join('|'));
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-tables-'));
  cpSync(join(ROOT, 'examples', 'quillback-pan', 'geoid.csv'), join(folder, 'geoid.csv'));
  writeFileSync(join(folder, 'session.toml'), SURVEY_SESSION);
  put('fixes.csv', largeSurvey(20261129, 120));
  const reduce = ['reduce-points', 'fixes.csv', '-s', 'session.toml', '--on-error', 'skip', '-q'];
  for (const name of ['points.csv', 'points.geojson', 'points.json'])
    expect((await runInProcess([...reduce, '-o', name], { cwd: folder })).exit).toBe(1);
  const [header = [], ...rows] = independentCsv(textOf('points.csv'), ',') ?? [];
  const at = (row: readonly string[], name: string): string => row[header.indexOf(name)] ?? '';
  const located = rows.filter((row) => at(row, 'westing_m') !== '');
  const ids = [...new Set(located.map((row) => at(row, 'point_id')))];
  const first = ids.map((id) => located.find((row) => at(row, 'point_id') === id) ?? []);
  const off = (text: string, index: number): string => (Number(text) + (((index * 7) % 21) - 10) / 1000).toFixed(4);
  tables.set('points.csv', { header, rows });
  tables.set('degrees.csv', without({ header, rows }, ['westing_m', 'southing_m']));
  tables.set('single.csv', { header, rows: first });
  tables.set('control.csv', {
    header: [
      'point_id',
      'westing_m',
      'southing_m',
      'orthometric_height_m',
      'sigma_horizontal_m',
      'sigma_vertical_m',
      'role',
      'source',
    ],
    rows: first
      .filter((_, index) => index % 3 === 0)
      .map((row, index) => [
        at(row, 'point_id'),
        off(at(row, 'westing_m'), index),
        off(at(row, 'southing_m'), index + 4),
        off(at(row, 'orthometric_height_m'), index + 9),
        '0.005',
        '0.008',
        'check',
        'Üb, "1"',
      ]),
  });
  tables.set('design.csv', {
    header: [
      'point_id',
      'westing_m',
      'southing_m',
      'orthometric_height_m',
      'tolerance_horizontal_m',
      'tolerance_vertical_m',
    ],
    rows: first
      .filter((_, index) => index % 4 === 1)
      .map((row, index) => [
        at(row, 'point_id'),
        off(at(row, 'westing_m'), index),
        off(at(row, 'southing_m'), index + 4),
        off(at(row, 'orthometric_height_m'), index + 9),
        '0.05',
        '0.1',
      ]),
  });
  tables.set('lines.csv', {
    header: ['from_id', 'to_id'],
    rows: first
      .slice(1)
      .map((row, index) => [
        named(rows, header, at(first[index] ?? [], 'point_id')),
        named(rows, header, at(row, 'point_id')),
      ]),
  });
  tables.set('site.csv', {
    header: [
      'point_id',
      'easting_m',
      'northing_m',
      'ellipsoidal_height_m',
      'sigma_horizontal_m',
      'sigma_vertical_m',
      'role',
      'source',
    ],
    rows: first
      .slice(0, 30)
      .map((row, index) => [
        at(row, 'point_id'),
        off((60_000 - Number(at(row, 'westing_m'))).toFixed(4), index),
        off((3_600_000 - Number(at(row, 'southing_m'))).toFixed(4), index + 5),
        off(at(row, 'ellipsoidal_height_m'), index + 8),
        '0.005',
        '0.008',
        index % 4 === 3 ? 'check' : 'fit',
        'Netz',
      ]),
  });
  tables.set('candidates.csv', {
    header: ['point_id', 'latitude_deg', 'longitude_deg', 'ellipsoidal_height_m', 'cellular', 'sky_score', 'cost'],
    rows: [
      ['school roof', '-31.5', '21.4', '1042.0', 'yes', '8', '120'],
      ['Brunnen, Süd', '-31.6', '21.1', '1050.5', 'yes', '9', '40'],
      ['hill', '-31.35', '21.6', '', 'no', '', ''],
    ],
  });
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** JSON numbers keep their values, not the zeros at their end. */
function withoutZeros(found: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  const rows = (found['tables'] as string[][]).map((table) =>
    table.map((row) => row.replaceAll(/(?<=(?:\||^)-?\d+\.\d*)0+(?=\||$)/gu, '').replaceAll(/\.(?=\||$)/gu, '')),
  );
  return { ...found, tables: rows };
}

function without({ header, rows }: Survey, names: readonly string[]): Survey {
  const kept = header.map((_, column) => column).filter((column) => !names.includes(header[column] ?? ''));
  return {
    header: kept.map((column) => header[column] ?? ''),
    rows: rows.map((row) => kept.map((column) => row[column] ?? '')),
  };
}

/** ID or, where the id stands more than once, ID@OCCUPATION. */
function named(rows: Survey['rows'], header: Survey['header'], id: string): string {
  const own = rows.filter((row) => row[header.indexOf('point_id')] === id);
  const whole = own.find((row) => row[header.indexOf('westing_m')] !== '') ?? [];
  return own.length > 1 ? `${id}@${whole[header.indexOf('occupation')] ?? ''}` : id;
}

const FORMS: Readonly<Record<string, { readonly seed?: number; readonly form: Partial<CsvForm> }>> = {
  'columns in another order': { seed: 1, form: {} },
  'columns in another order, in quotes, CR LF': { seed: 2, form: { quoteAll: true, lineEnd: '\r\n' } },
  'CR and a byte order mark': { seed: 3, form: { lineEnd: '\r', encoding: 'utf8-mark' } },
  'UTF-16': { form: { encoding: 'utf16le' } },
};
const OWN_DIALECT: Partial<CsvForm> = { delimiter: ';', decimalComma: true };

describe.each(Object.entries(COMMANDS))('%s', (_, words) => {
  const used = TABLES.filter((name) => words.includes(name));
  let expected: Readonly<Record<string, unknown>> = {};
  beforeAll(async () => {
    for (const name of used) put(name, tables.get(name) ?? { header: [], rows: [] });
    expected = await answer(words);
    expect([0, 1], String(expected['said'])).toContain(expected['exit']);
    expect((expected['tables'] as string[][])[0]?.length).toBeGreaterThan(20);
  });

  it.each(Object.entries(FORMS))(
    'gives the same answer whichever table is written with %s',
    async (_name, { seed, form }) => {
      for (const name of used) {
        const table = tables.get(name) ?? { header: [], rows: [] };
        put(name, seed === undefined ? table : permuted(table, seed, []), form);
        expect(await answer(words), name).toEqual(expected);
        put(name, table);
      }
    },
  );

  it('gives the same answer where the points have semicolons and decimal commas', async () => {
    // The form of the points is that of control, design and candidates; lines are always as we write them.
    const own = used.filter((name) => name !== 'lines.csv');
    for (const name of own) put(name, permuted(tables.get(name) ?? { header: [], rows: [] }, 4, []), OWN_DIALECT);
    const found = await answer([...words, '-d', ';', '--decimal-comma']);
    for (const name of own) put(name, tables.get(name) ?? { header: [], rows: [] });
    // Columns that the command does not read pass through as they are written.
    const apart = (found['tables'] as string[][]).map((rows) =>
      rows.map((row) => row.replaceAll(/(?<=\||^)(-?\d+),(\d+)(?=\||$)/gu, '$1.$2')),
    );
    expect({ ...found, tables: apart }).toEqual(expected);
  });

  it.skipIf(!words.includes('points.csv'))('gives the same answer to the points as GeoJSON and JSON', async () => {
    const points = async (form: string): ReturnType<typeof answer> =>
      answer(words.map((word) => (word === 'points.csv' ? form : word)));
    expect(await points('points.geojson')).toEqual(expected);
    expect(withoutZeros(await points('points.json'))).toEqual(withoutZeros(expected));
  });
});
