import { mkdtempSync, rmSync, writeFileSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';
import { tipSession } from '../support/tip-session.js';

// Every name that a command writes, put into its input as a column of somebody else: nothing may appear twice, ours
// keeps its name and value, and the next command reads the file.
const FORMATS = ['csv', 'geojson', 'json'] as const;
const SESSION = tipSession();
const FIXES = [
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution',
  'A,2026-03-04T07:00:00Z,-31.51,21.41,1050,fixed',
  'B,2026-03-04T07:05:00Z,-31.52,21.42,1052,float',
  'C,2026-03-04T07:09:00Z,-31.53,21.42,1052,fixed',
];
const GRID = [
  'point_id,westing_m,southing_m,ellipsoidal_height_m',
  'A,-38946.9576,3487592.8238,1050',
  'B,-39894.0000,3488703.0000,1052',
];
const LIMITS = [
  '--system',
  'EPSG:2049',
  '--base=-31.5,21.4,1040',
  '--limit-horizontal',
  '0.05',
  '--base-sigma',
  '0.01,0.02',
  '--pole-length',
  '2',
];

/** Commands that carry columns: their input, and the words that read it. */
const COMMANDS: Readonly<Record<string, { readonly input: readonly string[]; readonly words: readonly string[] }>> = {
  'reduce-points': { input: FIXES, words: ['reduce-points', 'in.csv', '--session', 's.toml'] },
  'reduce-points --combine': { input: FIXES, words: ['reduce-points', 'in.csv', '--session', 's.toml', '--combine'] },
  'transform to a grid': { input: GRID, words: ['transform', 'in.csv', '--from', 'EPSG:2049', '--to', 'EPSG:2048'] },
  'transform to degrees': { input: GRID, words: ['transform', 'in.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148'] },
  'transform to a site': { input: GRID, words: ['transform', 'in.csv', '--site', 'site.json', '--extrapolate'] },
  'plan-baseline': { input: GRID, words: ['plan-baseline', 'in.csv', ...LIMITS] },
};
/** What reads the output of each, whatever its format. */
const NEXT: Readonly<Record<string, readonly (readonly string[])[]>> = {
  'reduce-points': [
    ['transform', 'FILE', '--from', 'EPSG:2049', '--to', 'EPSG:2048'],
    ['plan-baseline', 'FILE', ...LIMITS],
    ['join-points', 'FILE', '--system', 'EPSG:2049', '--consecutive'],
    ['check-tolerances', 'FILE', '--system', 'EPSG:2049', '--control', 'control.csv'],
    ['transform', 'FILE', '--site', 'site.json', '--extrapolate'],
  ],
  'reduce-points --combine': [['plan-baseline', 'FILE', ...LIMITS]],
  'transform to a grid': [
    ['transform', 'FILE', '--from', 'EPSG:2048', '--to', 'EPSG:2049'],
    ['join-points', 'FILE', '--system', 'EPSG:2048', '--consecutive'],
  ],
  'transform to degrees': [['transform', 'FILE', '--from', 'EPSG:4148', '--to', 'EPSG:2049']],
  'transform to a site': [['transform', 'FILE', '--site', 'site.json', '--inverse', '--extrapolate']],
  'plan-baseline': [
    ['plan-baseline', 'FILE', ...LIMITS],
    ['transform', 'FILE', '--from', 'EPSG:2049', '--to', 'EPSG:2048'],
  ],
};
const MARK = 'somebody-else';
let folder = '';

async function run(words: readonly string[]): Promise<RunResult> {
  return runInProcess(words, { cwd: folder });
}

/** Keys that stand twice in one object of a JSON text, each once more: JSON.parse hides them. */
function repeatedKeys(text: string): readonly string[] {
  const open: Set<string>[] = [];
  const repeated: string[] = [];
  for (const [token, key] of text.matchAll(/"((?:[^"\\]|\\.)*)"\s*:|"(?:[^"\\]|\\.)*"|[{}]/gu)) {
    if (token === '{') open.push(new Set());
    else if (token === '}') open.pop();
    else if (key !== undefined) {
      if (open.at(-1)?.has(key) === true) repeated.push(key);
      open.at(-1)?.add(key);
    }
  }
  return repeated;
}

/** Names of the columns that each row of an output has, repeated as often as they stand there; and the rows by name. */
function written(
  file: string,
  format: (typeof FORMATS)[number],
): { readonly names: readonly string[]; readonly rows: readonly Readonly<Record<string, unknown>>[] } {
  const text = readFileSync(join(folder, file), 'utf8');
  if (format === 'csv') {
    const [head = [], ...lines] = text
      .trimEnd()
      .split('\n')
      .map((line): readonly string[] => line.split(','));
    return {
      names: head,
      rows: lines.map((cells) => Object.fromEntries(head.map((name, index) => [name, cells[index]]))),
    };
  }
  const document = JSON.parse(text) as {
    points?: Record<string, unknown>[];
    features?: { properties: Record<string, unknown> }[];
  };
  const rows = document.points ?? document.features?.map(({ properties }) => properties) ?? [];
  return { names: [...repeatedKeys(text), ...Object.keys(rows[0] ?? {})], rows };
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-names-'));
  writeFileSync(join(folder, 's.toml'), SESSION);
  writeFileSync(
    join(folder, 'control.csv'),
    'point_id,westing_m,southing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m\nA,-38946.9576,3487592.8238,1050,0.01,0.02\n',
  );
  const four = [
    [-38900, 3487500],
    [-39900, 3487500],
    [-39900, 3488800],
    [-38900, 3488800],
  ] as const;
  writeFileSync(
    join(folder, 'measured.csv'),
    `point_id,westing_m,southing_m,ellipsoidal_height_m\n${four.map(([w, s], i) => `C${String(i)},${String(w)},${String(s)},1040`).join('\n')}\n`,
  );
  writeFileSync(
    join(folder, 'site.csv'),
    `point_id,easting_m,northing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m\n${four.map(([w, s], i) => `C${String(i)},${(60_000 - w + i / 1000).toFixed(4)},${(3_600_000 - s).toFixed(4)},${(1040 + i / 1000).toFixed(4)},0.005,0.008`).join('\n')}\n`,
  );
  const fit = await run([
    'fit-site',
    'measured.csv',
    '--control',
    'site.csv',
    '--system',
    'EPSG:2049',
    '--site-axes',
    'easting_m,northing_m',
    '-o',
    'site.json',
    '-q',
  ]);
  expect([0, 1], fit.stderr).toContain(fit.exit);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.each(Object.entries(COMMANDS))('%s', (name, { input, words }) => {
  it.each(FORMATS)(
    'writes no name twice as %s, keeps its own values, and is read by the next command',
    async (format) => {
      const out = `out.${format}`;
      writeFileSync(join(folder, 'in.csv'), `${input.join('\n')}\n`);
      const plain = await run([...words, '-o', out, '--force', '-q']);
      expect([0, 1], plain.stderr).toContain(plain.exit);
      const before = written(out, format);
      const own = before.names.filter((column) => !(input[0] ?? '').split(',').includes(column));
      const extra = fc.uniqueArray(
        fc.constantFrom(...own, ...(format === 'geojson' ? ['frame', 'system'] : []), 'remark'),
        { minLength: 1, maxLength: 6 },
      );
      const spelt = extra.chain((names) =>
        fc.tuple(...names.map((column) => fc.constantFrom(column, column.toUpperCase(), `input_${column}`))),
      );
      await fc.assert(
        fc.asyncProperty(spelt, async (chosen) => {
          writeFileSync(
            join(folder, 'in.csv'),
            `${input.map((line, index) => `${line},${(index === 0 ? chosen : chosen.map(() => MARK)).join(',')}`).join('\n')}\n`,
          );
          const result = await run([...words, '-o', out, '--force']);
          // A column of ours that the command reads is no business of this test: it refuses the text in it.
          if (result.exit >= 2) {
            expect(result.stderr).toMatch(
              /(?:\[|"code":")(?:value-|angle-|base-unknown|csv-axes-mismatch|csv-column-ambiguous|csv-missing-column)/u,
            );
            return;
          }
          expect(result.exit).toBe(plain.exit);
          const after = written(out, format);
          const folded = after.names.map((column) => column.trim().toLowerCase());
          expect(new Set(folded).size, after.names.join()).toBe(folded.length);
          after.rows.forEach((row, index) => {
            for (const [column, value] of Object.entries(before.rows[index] ?? {}))
              if (value !== '' && value !== null && column in row) expect(row[column], column).toEqual(value);
          });
          const renamed = after.names.some(
            (column) => !before.names.includes(column) && column.startsWith('input_') && !chosen.includes(column),
          );
          expect(result.stderr.includes('csv-column-renamed')).toBe(renamed);
          for (const next of NEXT[name] ?? []) {
            const { exit, stderr } = await run(next.map((word) => (word === 'FILE' ? out : word)));
            expect([0, 1], `${next.join(' ')}: ${stderr}`).toContain(exit);
          }
        }),
        { numRuns: 12, seed: 20261128 },
      );
    },
  );
});
