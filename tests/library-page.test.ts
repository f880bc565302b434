import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as files from '../src/files.js';
import * as face from '../src/index.js';
import { docBlocks } from './support/doc-blocks.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const PAGE = readFileSync(join(ROOT, 'docs', 'library.md'), 'utf8');
const BIN = join(ROOT, 'bin', 'pegbook.js');
const folder = mkdtempSync(join(tmpdir(), 'pegbook-library-'));

const run = (
  ...args: readonly string[]
): { readonly status: number | null; readonly stdout: string; readonly stderr: string } =>
  spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });

beforeAll(() => {
  mkdirSync(join(folder, 'node_modules'));
  symlinkSync(ROOT, join(folder, 'node_modules', 'pegbook'), 'junction');
  cpSync(join(ROOT, 'examples', 'quillback-pan'), folder, { recursive: true });
  cpSync(join(ROOT, 'examples', 'quillback-pan-check', 'points.csv'), join(folder, 'checked-points.csv'));
  for (const { language, text, info } of docBlocks('docs/library.md', PAGE)) {
    const name = /(?:^| )run=(\S+)/u.exec(info)?.[1];
    if (language === 'js' && name !== undefined) writeFileSync(join(folder, name), `${text}\n`);
  }
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the programs of the page on the library', () => {
  it('reduce a day to the bytes of the command', () => {
    const program = run('reduce.mjs', 'fixes.csv', 'session.toml', 'points.csv');
    expect(program.status, program.stderr).toBe(0);
    const command = run(
      join(ROOT, 'bin', 'pegbook.js'),
      'reduce-points',
      'fixes.csv',
      '--session',
      'session.toml',
      '-o',
      'expected.csv',
      '-q',
    );
    expect(command.status, command.stderr).toBe(1);
    expect(readFileSync(join(folder, 'points.csv'), 'utf8')).toBe(readFileSync(join(folder, 'expected.csv'), 'utf8'));
  });

  it('check a day to the rows of the command', () => {
    const limits = 'version = 1\n[[limit]]\nname = "plan"\naxis = "2d"\nconstant_m = 0.05\napplies_to = ["control"]\n';
    writeFileSync(join(folder, 'limits.toml'), limits);
    const files = ['control.csv', 'session.toml', 'limits.toml'];
    const program = run('check.mjs', 'checked-points.csv', ...files);
    expect(program.status, program.stderr).toBe(0);
    const options = files.flatMap((name) => [`--${name.slice(0, name.indexOf('.'))}`, name]);
    const command = run(BIN, 'check-tolerances', 'checked-points.csv', ...options, '--repeats', '-q');
    expect(command.status, command.stderr).toBe(1);
    const [header = '', ...rows] = command.stdout.trimEnd().split('\n');
    const names = header.split(',');
    const shown = [
      'check',
      'point_id',
      'against',
      ...names.filter((name) => name.startsWith('difference_')),
      'verdict',
    ];
    const expected = rows.map((row) => shown.map((name) => row.split(',')[names.indexOf(name)]).join());
    expect(
      expected.some((row) => row.startsWith('control,')) && expected.some((row) => row.startsWith('repeat,')),
    ).toBe(true);
    expect(
      program.stdout
        .trimEnd()
        .replaceAll(/(?:exceeds|not-stated)$/gmu, 'no')
        .split('\n'),
    ).toEqual(expected);
  });

  it('adjust a network to the rows of the command', () => {
    const named = ['vectors.csv', 'control.csv'].map((name) => join(ROOT, 'examples', 'quillback-pan-network', name));
    const program = run('network.mjs', ...named);
    expect(program.status, program.stderr).toBe(0);
    const [vectors = '', control = ''] = named;
    const files = ['--vectors', vectors, '--control', control];
    const command = run(BIN, 'adjust-network', ...files, '--system', 'EPSG:2049', '-q');
    expect(command.status, command.stderr).toBe(0);
    const [header = '', ...rows] = command.stdout.trimEnd().split('\n');
    const names = header.split(',');
    const shown = ['point_id', 'westing_m', 'southing_m', 'ellipse_major_95_m', 'verdict'];
    const expected = rows.map((row) => shown.map((name) => row.split(',')[names.indexOf(name)]).join());
    expect(expected.length).toBeGreaterThan(5);
    // The table has the words of points for a verdict.
    expect(
      program.stdout
        .trimEnd()
        .replaceAll(/within$/gmu, 'accepted')
        .split('\n'),
    ).toEqual(expected);
  });

  it('write the formats that the name asks for, overwrite nothing, and never what was read', () => {
    expect(run('reduce.mjs', 'fixes.csv', 'session.toml', 'points.geojson').status).toBe(0);
    const { features } = JSON.parse(readFileSync(join(folder, 'points.geojson'), 'utf8')) as { features: unknown[] };
    expect(features.length).toBeGreaterThan(10);
    const again = run('reduce.mjs', 'fixes.csv', 'session.toml', 'points.geojson');
    expect(again.status).toBe(3);
    expect(again.stderr).toContain('file-output-exists');
    const onto = run('reduce.mjs', 'fixes.csv', 'session.toml', 'fixes.csv');
    expect(onto.status).toBe(3);
    expect(onto.stderr).toMatch(/file-output-(?:is-input|unwritable|exists)/u);
    expect(readdirSync(folder).filter((name) => name.includes('.tmp'))).toEqual([]);
  });

  it('say what is wrong with a file, its place and nothing of a stack', () => {
    writeFileSync(join(folder, 'bad.csv'), 'point_id,latitude_deg\nA,ninety\n');
    const ended = run('reduce.mjs', 'bad.csv', 'session.toml', 'never.csv');
    expect(ended.status).toBe(3);
    expect(ended.stderr).toContain('csv-missing-column');
    expect(ended.stderr).not.toContain(' at ');
    expect(readdirSync(folder)).not.toContain('never.csv');
  });

  it('compare control, and refuse a file with one bad row whole', () => {
    expect(run('reduce.mjs', 'fixes.csv', 'session.toml', 'measured.csv').status).toBe(0);
    const compared = run('residuals.mjs', 'measured.csv', 'control.csv');
    expect(compared.status, compared.stderr).toBe(0);
    expect(compared.stdout).toMatch(/^\S+ -?\d+\.\d{3} -?\d+\.\d{3}$/mu);
    const lines = readFileSync(join(folder, 'control.csv'), 'utf8').split('\n');
    writeFileSync(
      join(folder, 'broken.csv'),
      [...lines.slice(0, 2), lines[2]?.replace(/,-?[0-9.]+/u, ',x'), ...lines.slice(3)].join('\n'),
    );
    expect(run('residuals.mjs', 'measured.csv', 'broken.csv').status).toBe(3);
  });
});

describe('the surface of pegbook/files', () => {
  it('has an example with every function', () => {
    const face = readFileSync(join(ROOT, 'src', 'files.ts'), 'utf8');
    const functions = [...face.matchAll(/^export \{ ([^}]+) \} from '\.\/(files\/[^']+)\.js';/gmu)].flatMap(
      ([, names, file]) => (names ?? '').split(', ').map((name) => ({ name, file: file ?? '' })),
    );
    expect(functions.length).toBeGreaterThan(5);
    for (const { name, file } of functions) {
      const text = readFileSync(join(ROOT, 'src', `${file}.ts`), 'utf8');
      const at = text.search(new RegExp(`^export (?:async )?function ${name}\\b`, 'mu'));
      expect(text.slice(text.lastIndexOf('/**', at), at), name).toContain('@example');
    }
  });
});

describe('the table of pipelines', () => {
  it('names functions that the two entries export, and each command that computes', () => {
    const rows = PAGE.split('\n')
      .filter((line) => line.startsWith('| `'))
      .map((line) => line.split('|').slice(1, -1));
    const named = (text = ''): readonly string[] => [...text.matchAll(/`(\w+)`/gu)].map(([, name = '']) => name);
    const missing = rows.flatMap(([, reads, runs]) => [
      ...named(reads).filter((name) => !(name in files)),
      ...named(runs).filter((name) => !(name in face || name in files)),
    ]);
    expect(missing).toEqual([]);
    expect(new Set(rows.map(([command = '']) => /[a-z-]+/u.exec(command)?.[0])).size).toBe(9);
  });
});
