import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { seededRandom } from '../../support/seeded-random.js';
import { runInProcess } from '../../support/run-in-process.js';
import { independentCsv } from '../independent-csv.js';
import { largeSurvey, SURVEY_SESSION } from './large-survey.js';
import type { Survey } from './large-survey.js';
import { csvBytes, geojsonText, permuted, PLAIN, respelt, sexagesimal } from './survey-forms.js';
import type { CsvForm } from './survey-forms.js';

// A whole day written in every way that means the same gives the same bytes of points, epochs and refused rows, says the
// same and counts the same; only what names the input may differ.
const SURVEY = largeSurvey(20261128);
/** Where the file of epochs names the input: its columns source and line. */
const NAMING = [4, 5];
let folder = '';

/** Everything that a run says and writes, without what names the input. */
interface Answer {
  readonly exit: number;
  readonly said: string;
  readonly points: string;
  readonly epochs: readonly string[];
  readonly rejects: readonly string[];
  readonly problems: readonly string[];
  readonly record: unknown;
}

const textOf = (name: string): string => readFileSync(join(folder, name), 'utf8');

/** Refused rows as the cells of the survey's own columns, with the codes: of CSV as they stand in it, of GeoJSON by their features. */
function rejectsOf(delimiter: string, isText: boolean): readonly string[] {
  const names = [...SURVEY.header, 'problem_codes'];
  // A feature is written back with its values; zeros at the end of the numbers of its geometry are not kept.
  const isPlace = (name: string): boolean => ['latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'].includes(name);
  const spelt = (name: string, cell: string): string => (isPlace(name) ? cell.replace(/(?<=[.,]\d*)0+$/u, '') : cell);
  const listed = (cells: Readonly<Record<string, string | null | undefined>>): string =>
    names.map((name) => `${name}=${spelt(name, cells[name] ?? '')}`).join('|');
  if (isText) {
    const [header = [], ...rows] = independentCsv(textOf('bad.csv'), delimiter) ?? [];
    if (!header.includes('point_id')) return [];
    expect([...header].sort()).toEqual([...names, 'problem'].sort());
    return rows.map((row) => listed(Object.fromEntries(header.map((name, column) => [name, row[column]]))));
  }
  return textOf('bad.csv')
    .trimEnd()
    .split('\n')
    .map((line) => {
      const end = line.lastIndexOf('}},') + 2;
      const quoted = line.slice(0, end).replaceAll(/([[:,])(-?\d+(?:\.\d+)?)(?=[\],}])/gu, '$1"$2"');
      const { id, geometry, properties } = JSON.parse(quoted) as {
        id?: string;
        geometry: { coordinates: string[] };
        properties: Record<string, string | null>;
      };
      const [longitude_deg, latitude_deg, ellipsoidal_height_m] = geometry.coordinates;
      return listed({
        point_id: id,
        longitude_deg,
        latitude_deg,
        ellipsoidal_height_m,
        ...properties,
        problem_codes: independentCsv(line.slice(end + 1), ',')?.[0]?.[0],
      });
    });
}

interface Where {
  readonly column?: string;
  readonly path?: string;
}

/** Codes, words and the column of every problem; the row too where the file has rows. */
function problemsOf(): readonly string[] {
  return textOf('problems.jsonl')
    .trimEnd()
    .split('\n')
    .map((line) => {
      const { code, message, where } = JSON.parse(line) as { code: string; message: string; where?: Where };
      return `${code} ${where?.column ?? where?.path?.split('.').at(-1) ?? ''} ${message.replaceAll(/\S*fixes\.(?:csv|geojson)(?::\d+)*/gu, 'FILE').replaceAll(/\bline \d+/gu, 'LINE')}`;
    });
}

async function reduce(
  name: string,
  bytes: Buffer | string,
  options: readonly string[] = [],
  delimiter = ',',
): Promise<Answer> {
  writeFileSync(join(folder, name), bytes);
  const outputs = [
    '-o',
    'points.csv',
    '--epochs',
    'epochs.csv',
    '--rejects',
    'bad.csv',
    '--problems',
    'problems.jsonl',
    '--record',
    'record.json',
    '--force',
  ];
  const { exit, stderr } = await runInProcess(
    ['reduce-points', name, '-s', 'session.toml', '--on-error', 'skip', ...outputs, ...options],
    { cwd: folder },
  );
  const isText = name.endsWith('.csv');
  const {
    argv: _argv,
    // Digests of what is compared below as it stands; rejected rows are verbatim, so that theirs differ.
    outputs: _outputs,
    inputs,
    ...record
  } = JSON.parse(textOf('record.json')) as {
    argv: unknown;
    outputs: unknown;
    inputs: { kind: string; rows_read: number; rows_used: number; rows_rejected: number }[];
  };
  return {
    exit,
    // The problems themselves are compared one by one.
    said: stderr
      .split('\n')
      .filter((line) => !/^(?:\s|fixes\.)/u.test(line))
      .join('\n'),
    points: textOf('points.csv'),
    epochs: (independentCsv(textOf('epochs.csv'), ',') ?? []).map((row) =>
      row.filter((_, column) => !NAMING.includes(column)).join('|'),
    ),
    rejects: rejectsOf(delimiter, isText),
    problems: problemsOf(),
    record: {
      ...record,
      inputs: inputs.map(({ rows_read, rows_used, rows_rejected }) => [rows_read, rows_used, rows_rejected]),
    },
  };
}

let expected: Answer;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-survey-'));
  cpSync(join(ROOT, 'examples', 'quillback-pan', 'geoid.csv'), join(folder, 'geoid.csv'));
  writeFileSync(join(folder, 'session.toml'), SURVEY_SESSION);
  expected = await reduce('fixes.csv', csvBytes(SURVEY, PLAIN));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the survey', () => {
  it('has everything in it that a form of writing could lose', () => {
    expect(SURVEY.rows.length).toBeGreaterThan(3500);
    expect(expected.exit).toBe(1);
    expect(expected.points.split('\n').length).toBeGreaterThan(200);
    for (const text of ['Ж-12', '点-5', '"P, 7"', 'löschwasser', 'nach Regen', 'line one\nline', 'changed'])
      expect(expected.points).toContain(text);
    expect(expected.rejects.length).toBeGreaterThan(8);
    expect(new Set(expected.problems.map((text) => text.split(' ')[0])).size).toBeGreaterThan(5);
    const verdicts = (expected.record as { verdict_counts: Record<string, number> }).verdict_counts;
    expect(Object.keys(verdicts)).toEqual(expect.arrayContaining(['accepted', 'rejected']));
    for (const base of ['B1', 'B2']) expect(expected.points).toContain(`,${base},`);
  });
});

const WAYS: Readonly<
  Record<string, { readonly survey?: Survey; readonly form?: Partial<CsvForm>; readonly options?: readonly string[] }>
> = {
  'columns in another order': { survey: permuted(SURVEY, 1) },
  'columns in a third order, every cell in quotes': { survey: permuted(SURVEY, 2), form: { quoteAll: true } },
  'CR LF': { form: { lineEnd: '\r\n' } },
  CR: { form: { lineEnd: '\r' } },
  'a byte order mark': { form: { encoding: 'utf8-mark' } },
  'UTF-16, little end first': { form: { encoding: 'utf16le', lineEnd: '\r\n' } },
  'UTF-16, big end first': { survey: permuted(SURVEY, 3), form: { encoding: 'utf16be' } },
  semicolons: { form: { delimiter: ';' }, options: ['-d', ';'] },
  'semicolons and decimal commas': {
    survey: permuted(SURVEY, 4),
    form: { delimiter: ';', decimalComma: true },
    options: ['-d', ';', '--decimal-comma'],
  },
  tabs: { form: { delimiter: '\t' }, options: ['-d', '\\t'] },
  'degrees, minutes and seconds': {
    survey: respelt(SURVEY, {
      latitude_deg: (cell) => sexagesimal(cell, ['N', 'S']),
      longitude_deg: (cell) => sexagesimal(cell, ['E', 'W']),
    }),
  },
  'times of a zone, with a blank': { survey: respelt(SURVEY, { epoch_utc: (cell) => inZone(cell) }) },
  'numbers with signs, zeros and exponents': {
    survey: respelt(SURVEY, {
      ellipsoidal_height_m: (cell) => `+0${cell}00`,
      sigma_east_m: (cell) => (cell.startsWith('0.') ? `${cell.slice(2)}e-4` : cell),
      pole_length_m: (cell) => `${cell}e0`,
      tilt_azimuth_deg: (cell) => `${cell}0`,
    }),
  },
  'solutions by their digits': {
    survey: respelt(SURVEY, { solution: (cell) => ({ fixed: '4', float: '5' })[cell] ?? cell }),
  },
};

/** A time in UTC as the clock shows it two hours farther east. */
function inZone(cell: string): string {
  const time = Date.parse(cell);
  return Number.isNaN(time) ? cell : `${new Date(time + 7_200_000).toISOString().slice(0, 19).replace('T', ' ')}+02:00`;
}

/** Rows of epochs whose residuals, at their end, differ in the last digit: nine decimals of a degree are not one double in both spellings. */
function residualsByUnit(found: Answer, by: Answer): Answer {
  const nearly = (row: string, other: string): boolean => {
    const [a, b] = [row.split('|'), other.split('|')];
    return (
      a.length === b.length &&
      a.every(
        (cell, column) =>
          cell === b[column] || (column >= a.length - 3 && Math.abs(Number(cell) - Number(b[column])) < 1.01e-4),
      )
    );
  };
  return {
    ...found,
    epochs: found.epochs.map((row, index) => (nearly(row, by.epochs[index] ?? '') ? (by.epochs[index] ?? '') : row)),
  };
}

describe('the same survey gives the same answer', () => {
  it.each(Object.entries(WAYS))('as CSV with %s', async (_, { survey = SURVEY, form = {}, options = [] }) => {
    const whole = { ...PLAIN, ...form };
    const found = await reduce('fixes.csv', csvBytes(survey, whole), options, whole.delimiter);
    const isRespelt = survey.rows.length > 0 && survey.header === SURVEY.header && survey !== SURVEY;
    const comparable = isRespelt ? { ...residualsByUnit(found, expected), rejects: [] } : found;
    const { rejects, problems } = expected;
    expect(comparable).toEqual({
      ...expected,
      rejects: isRespelt ? [] : withCommas(rejects, whole.decimalComma),
      problems: withCommas(problems, whole.decimalComma),
    });
    expect(found.rejects).toHaveLength(rejects.length);
  });

  it.each(['properties', 'id'] as const)('as GeoJSON, points named by their %s', async (named) => {
    expect(await reduce('fixes.geojson', geojsonText(permuted(SURVEY, 5), named))).toEqual(expected);
  });

  it('as several files, each with its columns in another order', async () => {
    const random = seededRandom(7);
    // A stand in two files would be two: cut where the point changes.
    const starts = SURVEY.rows
      .map((_, index) => index)
      .filter((index) => index > 0 && SURVEY.rows[index]?.[0] !== SURVEY.rows[index - 1]?.[0]);
    const cuts = [
      0,
      ...Array.from({ length: 4 }, () => starts[random.index(starts.length)] ?? 0).sort((a, b) => a - b),
      SURVEY.rows.length,
    ];
    const names = cuts.slice(1).map((to, index) => {
      const name = `part${String(index)}.csv`;
      writeFileSync(
        join(folder, name),
        csvBytes(permuted({ header: SURVEY.header, rows: SURVEY.rows.slice(cuts[index], to) }, index), PLAIN),
      );
      return name;
    });
    const { exit } = await runInProcess(
      ['reduce-points', ...names, '-s', 'session.toml', '--on-error', 'skip', '-q', '-o', 'joined.csv'],
      { cwd: folder },
    );
    expect(exit).toBe(expected.exit);
    expect(textOf('joined.csv')).toBe(expected.points);
  });
});

describe('parts of the survey', () => {
  it('give the whole, wherever the file is cut, in any order of columns', async () => {
    const random = seededRandom(3);
    const cuts = [
      1,
      ...Array.from({ length: 5 }, () => 2 + random.index(SURVEY.rows.length - 2)).sort((a, b) => a - b),
    ];
    const parts: Answer[] = [];
    const records: string[] = [];
    for (const [index, from] of cuts.entries()) {
      const to = cuts[index + 1];
      const bytes = csvBytes(permuted(SURVEY, 9), PLAIN);
      parts.push(
        await reduce('fixes.csv', bytes, [
          '--rows',
          `${String(from)}:${to === undefined ? '' : String(to - 1)}`,
          ...(index === 0 ? [] : ['--omit-header']),
        ]),
      );
      records.push(`record-${String(index)}.json`);
      cpSync(join(folder, 'record.json'), join(folder, records.at(-1) ?? ''));
    }
    expect(parts.map(({ points }) => points).join('')).toBe(expected.points);
    expect(parts.flatMap(({ epochs }) => epochs)).toEqual(expected.epochs);
    const { exit, stderr } = await runInProcess(['merge-records', ...records, '-o', 'merged.json', '-q'], {
      cwd: folder,
    });
    expect(exit, stderr).toBe(expected.exit);
    const merged = JSON.parse(textOf('merged.json')) as Record<string, unknown>;
    const whole = expected.record as Record<string, unknown>;
    for (const member of ['verdict', 'verdict_counts', 'reason_counts', 'settings', 'systems', 'methods'])
      expect(merged[member], member).toEqual(whole[member]);
  });
});

const BUILT = existsSync(join(ROOT, 'dist', 'program', 'reduce-worker.js'));

describe.skipIf(!BUILT)('threads (skipped until npm run build has been run)', () => {
  it.each([
    ['the survey', SURVEY, ['1', '2', '4']],
    ['a day on which nothing is said, of a megabyte', largeSurvey(5, 400, false), ['1', '3']],
  ] as const)('of any number give the same bytes of %s', (_, survey, counts) => {
    writeFileSync(join(folder, 'fixes.csv'), csvBytes(permuted(survey, 11), { ...PLAIN, lineEnd: '\r\n' }));
    // No file of epochs: it looks at the working, which threads do not hand on.
    const words = [
      'reduce-points',
      'fixes.csv',
      '-s',
      'session.toml',
      '--on-error',
      'skip',
      '--force',
      '-o',
      'points.csv',
      '--rejects',
      'bad.csv',
      '--problems',
      'problems.jsonl',
    ];
    const runs = counts.map((workers) => {
      const { status, stderr } = spawnSync(
        process.execPath,
        [join(ROOT, 'bin', 'pegbook.js'), ...words, '--workers', workers],
        { cwd: folder, encoding: 'utf8' },
      );
      return { status, stderr, written: ['points.csv', 'bad.csv', 'problems.jsonl'].map(textOf) };
    });
    if (survey === SURVEY) expect(runs[0]?.written[0]).toBe(expected.points);
    for (const run of runs) expect(run).toEqual(runs[0]);
  });
});

/** What is quoted from a file with decimal commas has them. */
function withCommas(lines: readonly string[], isWanted: boolean): readonly string[] {
  return isWanted ? lines.map((line) => line.replaceAll(/([="\s])([-+]?\d+)\.(\d+)(?=[|"\s]|$)/gu, '$1$2,$3')) : lines;
}
