import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { contextOf } from '../../src/cli/shell/context.js';
import { withWorkbench } from '../../src/cli/shell/workbench.js';
import { openSink } from '../../src/io/bytes/output/sink.js';
import { ROOT } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';
import { tipSession } from '../support/tip-session.js';
import { Writable, Readable } from 'node:stream';
import { value } from '../io/support.js';

// What is read is never written over, whatever names it and whatever it is called; outputs do not mix; a page that
// fails takes nothing with it.
const SESSION = tipSession('[height]\ngeoid = "geoid.csv"\n');
const POINTS =
  'point_id,westing_m,southing_m,ellipsoidal_height_m,sigma_east_m,sigma_north_m,sigma_up_m\nA,-38946.9576,3487592.8238,1050,0.01,0.01,0.02\nB,-39894.0000,3488703.0000,1052,0.01,0.01,0.02\n';
const CONTROL =
  'point_id,westing_m,southing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m\nA,-38946.9576,3487592.8238,1050,0.01,0.02\nB,-39894.0000,3488703.0000,1052,0.01,0.02\n';
const SHIFT = `name = "invented"
source = "invented"
from = "EPSG:4148"
to = "EPSG:4222"
method = "Geocentric translations (geog3D domain)"
tx_m = 134.73
ty_m = 110.92
tz_m = 292.66
`;
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-places-'));
  const put = (name: string, text: string): void => writeFileSync(join(folder, name), text);
  put('session.toml', SESSION);
  put(
    'fixes.csv',
    'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\nA,2026-03-04T07:00:00Z,-31.51,21.41,1050,fixed\nB,2026-03-04T07:05:00Z,-31.52,21.42,1052,fixed\n',
  );
  put('points.csv', POINTS);
  put('control.csv', CONTROL);
  put('occupations.csv', 'point_id,from_utc,to_utc\nA,2026-03-04T06:00:00Z,2026-03-04T08:00:00Z\n');
  put('lines.csv', 'from_id,to_id\nA,B\n');
  put('shift.toml', SHIFT);
  copyFileSync(join(ROOT, 'examples', 'quillback-pan', 'geoid.csv'), join(folder, 'geoid.csv'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

function run(...words: string[]): Promise<RunResult> {
  return runInProcess(words, { cwd: folder });
}

const REDUCE = ['reduce-points', 'fixes.csv', '--session', 'session.toml'];
const CHECK = ['check-tolerances', 'points.csv', '--system', 'EPSG:2049', '--control', 'control.csv'];
const TRANSFORM = ['transform', 'points.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148'];
const JOIN = ['join-points', 'points.csv', '--system', 'EPSG:2049', '--pairs', 'lines.csv'];
const FIT = ['fit-site', 'points.csv', '--system', 'EPSG:2049', '--control', 'control.csv', '--vertical', 'shift'];
const PLAN = [
  'plan-baseline',
  'points.csv',
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

/** Commands, and every file that each of them reads. */
const READ: readonly (readonly [string, readonly string[], readonly string[]])[] = [
  ['reduce-points', REDUCE, ['fixes.csv', 'session.toml', 'geoid.csv']],
  [
    'reduce-points with a geoid by option',
    ['reduce-points', 'fixes.csv', '--session', 'session.toml', '--geoid', './geoid.csv'],
    ['geoid.csv'],
  ],
  [
    'transform with heights',
    [...TRANSFORM, '--from-height', 'ellipsoidal', '--to-height', 'orthometric', '--geoid', 'geoid.csv'],
    ['points.csv', 'geoid.csv'],
  ],
  ['join-points', [...JOIN, '--session', 'session.toml'], ['points.csv', 'lines.csv', 'session.toml', 'geoid.csv']],
  ['check-tolerances', [...CHECK, '--geoid', 'geoid.csv'], ['points.csv', 'control.csv', 'geoid.csv']],
  ['fit-site', FIT, ['points.csv', 'control.csv']],
  [
    'plan-baseline',
    [...PLAN, '--candidates', 'control.csv', '--geoid', 'geoid.csv'].filter((word) => !word.startsWith('--base=')),
    ['points.csv', 'control.csv', 'geoid.csv'],
  ],
];
const OUTPUTS = ['--output', '--record', '--problems', '--rejects'] as const;

describe.each(READ)('%s', (_, words, inputs) => {
  it('overwrites nothing that it read, through any output and under any name', async () => {
    const sound = await run(...words, '-o', 'sound.out', '--format', 'csv', '-q');
    expect(sound.exit === 0 || sound.exit === 1 || words[0] === 'fit-site', sound.stderr).toBe(true);
    for (const input of inputs) {
      const before = readFileSync(join(folder, input));
      linkSync(join(folder, input), join(folder, 'another-name'));
      for (const option of OUTPUTS) {
        for (const name of [input, 'another-name', `./${input}`]) {
          const { exit, stderr } = await run(
            ...words,
            option,
            name,
            '--force',
            ...(option === '--output' ? [] : ['-o', 'out.out']),
            ...(option === '--rejects' ? ['--on-error', 'skip'] : []),
            ...(words[0] === 'fit-site' ? [] : ['--format', 'csv']),
          );
          expect(exit, `${option} ${name}: ${stderr}`).toBe(4);
          expect(stderr).toContain('[file-output-is-input]');
          expect(readFileSync(join(folder, input)).equals(before), `${option} ${name}`).toBe(true);
        }
      }
      rmSync(join(folder, 'another-name'));
      expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
    }
  });
});

describe('two documents on standard output', () => {
  it.each([
    ['a record beside data', [...REDUCE, '--record', '-']],
    ['problems beside data', [...TRANSFORM, '--problems', '-']],
    ['a page beside data', [...CHECK, '--report', '-']],
    ['a record beside problems', [...REDUCE, '-o', 'out.csv', '--record', '-', '--problems', '-']],
  ])('are refused: %s', async (_, words) => {
    const { exit, stderr, stdout } = await run(...words);
    expect(exit).toBe(2);
    expect(stderr).toContain('two outputs go to stdout');
    // At most the one document that tells of the failure.
    expect(stdout.toString()).not.toMatch(/^point_id/mu);
  });

  it('are no two where the data go elsewhere', async () => {
    const { exit, stdout, stderr } = await run(...REDUCE, '-o', 'out.csv', '--record', '-', '-q');
    expect(exit, stderr).toBe(0);
    expect(JSON.parse(stdout.toString())).toHaveProperty('schema', 'pegbook-run-record');
  });
});

describe('a page', () => {
  it('of two control points that fit exactly is drawn: arithmetic leaves residuals of 1e-10 m', async () => {
    writeFileSync(
      join(folder, 'points.csv'),
      'point_id,westing_m,southing_m\nA,-31780.4596,3484850.3463\nB,-37383.7852,3480004.5171\n',
    );
    writeFileSync(
      join(folder, 'control.csv'),
      'point_id,easting_m,northing_m,sigma_horizontal_m\nA,-3478380.8123,-195739.9718,0.01\nB,-3473273.5778,-201106.1132,0.01\n',
    );
    const { exit, stderr } = await run(
      'fit-site',
      'points.csv',
      '--control',
      'control.csv',
      '--system',
      'EPSG:2049',
      '--site-axes',
      'easting_m,northing_m',
      '-o',
      'site.json',
      '--report',
      'page.html',
    );
    expect(exit, stderr).toBe(0);
    expect(readFileSync(join(folder, 'page.html'), 'utf8')).toContain('</html>');
    expect(readFileSync(join(folder, 'site.json'), 'utf8')).toContain('pegbook-site');
  });

  it('that cannot be drawn says so itself, after the data are in place', async () => {
    const written: string[] = [];
    const stderr = new Writable({
      write(chunk: Buffer, _encoding, done): void {
        written.push(String(chunk));
        done();
      },
    });
    const context = contextOf(
      {
        argv: ['node', 'pegbook'],
        stdin: Object.assign(Readable.from([]), { isTTY: false }),
        stdout: new Writable({ write: (_chunk, _encoding, done) => done() }),
        stderr,
        env: {},
        cwd: () => folder,
      },
      new AbortController().signal,
    );
    const options = { output: 'out.csv', report: 'page.html', record: 'run.json' };
    const exit = await withWorkbench({ args: [], options }, context, [], async (bench) => {
      const data = await bench.open('out.csv');
      const page = await bench.openPage('page.html');
      await data.write('the data\n');
      const text = bench.draw(() => {
        throw new Error('a figure without a scale');
      });
      await page.write(text ?? '');
      return { exit: 0, reasons: new Set<string>(), record: (code) => `exit ${String(code)}` };
    });
    expect(exit).toBe(70);
    expect(written.join('')).toContain('the page could not be drawn: a figure without a scale [report-failed]');
    expect(readFileSync(join(folder, 'out.csv'), 'utf8')).toBe('the data\n');
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('exit 70');
    expect(readdirSync(folder).filter((name) => name.startsWith('page') || name.endsWith('.tmp'))).toEqual([]);
  });
});

describe('what is read', () => {
  it('stands in the record with the digest of its own bytes, a byte order mark and all', async () => {
    writeFileSync(join(folder, 'session.toml'), `\ufeff${SESSION}`);
    writeFileSync(join(folder, 'shift.toml'), `\ufeff${SHIFT}`);
    const digest = (name: string): string =>
      createHash('sha256')
        .update(readFileSync(join(folder, name)))
        .digest('hex');
    await run(...REDUCE, '-o', 'out.csv', '--record', 'run.json', '-q');
    const { inputs, grids } = JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as {
      inputs: { name: string; sha256: string; bytes: number }[];
      grids: { name: string; sha256: string }[];
    };
    expect(inputs[0]).toMatchObject({
      name: 'session.toml',
      sha256: digest('session.toml'),
      bytes: statSync(join(folder, 'session.toml')).size,
    });
    expect(inputs[1]).toMatchObject({ name: 'fixes.csv', sha256: digest('fixes.csv') });
    expect(grids[0]).toMatchObject({ name: 'geoid.csv', sha256: digest('geoid.csv') });
    const shifted = await run(
      'transform',
      'points.csv',
      '--from',
      'EPSG:2049',
      '--to',
      'EPSG:4222',
      '--shift',
      'shift.toml',
      '-o',
      'shifted.csv',
      '--record',
      'shift.json',
      '-q',
    );
    expect(shifted.exit, shifted.stderr).toBe(0);
    const record = JSON.parse(readFileSync(join(folder, 'shift.json'), 'utf8')) as {
      grids: { name: string; sha256: string }[];
    };
    expect(record.grids).toContainEqual(expect.objectContaining({ name: 'shift.toml', sha256: digest('shift.toml') }));
  });

  it('is named in records, pages and outputs as it was given, and never by its absolute path', async () => {
    const given = [
      ...REDUCE,
      '-o',
      'out.csv',
      '--record',
      'run.json',
      '--report',
      'page.html',
      '--problems',
      'problems.jsonl',
      '--epochs',
      'epochs.csv',
      '--verbose',
    ];
    const reduced = await run(...given);
    const checked = await run(
      ...CHECK,
      '-o',
      'checked.csv',
      '--record',
      'check.json',
      '--report',
      'check.html',
      '--junit',
      'check.xml',
    );
    const fitted = await run(...FIT, '-o', 'site.json', '--record', 'fit.json', '--report', 'fit.html');
    const planned = await run(...PLAN, '-o', 'plan.csv', '--record', 'plan.json', '--report', 'plan.html');
    expect(
      [reduced, checked, fitted, planned].map(({ exit }) => exit <= 1),
      reduced.stderr + checked.stderr + fitted.stderr + planned.stderr,
    ).toEqual([true, true, true, true]);
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toContain('"fixes.csv"');
    expect(readFileSync(join(folder, 'page.html'), 'utf8')).toContain('fixes.csv');
    const texts = [
      ...readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')] as const),
      ...[reduced, checked, fitted, planned].map(
        ({ stdout, stderr }) => ['what was printed', stdout.toString() + stderr] as const,
      ),
    ];
    expect(texts.length).toBeGreaterThan(20);
    for (const [name, text] of texts) expect(text.includes(folder), name).toBe(false);
    // What was given as an absolute path stays one: the test would see it.
    await run(
      'reduce-points',
      join(folder, 'fixes.csv'),
      '--session',
      'session.toml',
      '-o',
      'out.csv',
      '--force',
      '--record',
      'absolute.json',
    );
    expect(readFileSync(join(folder, 'absolute.json'), 'utf8')).toContain(JSON.stringify(join(folder, 'fixes.csv')));
  });

  it.skipIf(process.platform === 'win32')(
    'is a regular file where it is a session or a grid: no device, no pipe, at once',
    async () => {
      symlinkSync('/dev/zero', join(folder, 'endless.toml'));
      symlinkSync('/dev/zero', join(folder, 'endless.gtx'));
      execFileSync('mkfifo', [join(folder, 'pipe.toml'), join(folder, 'pipe.isg'), join(folder, 'pipe.gsb')]);
      const cases = [
        ['reduce-points', 'fixes.csv', '--session', 'endless.toml'],
        ['reduce-points', 'fixes.csv', '--session', 'pipe.toml'],
        [...REDUCE, '--geoid', 'endless.gtx'],
        [...REDUCE, '--geoid', 'pipe.isg'],
        ['transform', 'points.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4222', '--shift', 'pipe.gsb'],
      ];
      for (const words of cases) {
        const { exit, stderr } = await run(...words);
        expect(exit, stderr).toBe(4);
        expect(stderr).toContain('is no regular file [file-unreadable]');
      }
    },
  );

  it('lies below the folder of --confine, wherever it is named, and is not quoted where it does not', async () => {
    mkdirSync(join(folder, 'job'));
    const secret = 'a line that nobody may see';
    writeFileSync(join(folder, 'secret.csv'), `${secret}\n`);
    for (const name of ['fixes.csv', 'geoid.csv']) copyFileSync(join(folder, name), join(folder, 'job', name));
    writeFileSync(join(folder, 'job', 'session.toml'), SESSION);
    const job = ['reduce-points', 'job/fixes.csv', '--session', 'job/session.toml', '--confine', 'job', '-q'];
    expect((await run(...job)).exit).toBe(0);
    symlinkSync(join(folder, 'secret.csv'), join(folder, 'job', 'link.csv'));
    for (const name of ['../secret.csv', 'link.csv', join(folder, 'secret.csv')]) {
      writeFileSync(join(folder, 'job', 'session.toml'), SESSION.replace('"geoid.csv"', JSON.stringify(name)));
      const { exit, stderr, stdout } = await run(...job, '--problems', '-', '-o', 'out.csv', '--force');
      expect(exit, stderr).toBe(4);
      expect(stderr).toContain('[file-confined]');
      expect(stderr + stdout.toString()).not.toContain(secret);
    }
    expect((await run('reduce-points', 'fixes.csv', '--session', 'job/session.toml', '--confine', 'job')).exit).toBe(4);
  });
});

describe('the record of a run', () => {
  const recordOf = (): { verdict: string; exit_code: number } =>
    JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as { verdict: string; exit_code: number };
  const failing = ['transform', 'missing.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148'];

  it('stands in the place of that of a run that errors stopped, and of no other file', async () => {
    expect((await run(...failing, '--record', 'run.json', '-q')).exit).toBe(4);
    expect(recordOf()).toMatchObject({ verdict: 'error', exit_code: 4 });
    // A failed run after a failed one leaves its own.
    expect((await run(...REDUCE, '--geoid', 'missing.gtx', '--record', 'run.json', '-q')).exit).toBe(4);
    expect(recordOf()).toMatchObject({
      verdict: 'error',
      exit_code: 4,
      argv: [...REDUCE, '--geoid', 'missing.gtx', '--record', 'run.json', '-q'],
    });
    const { exit, stderr } = await run(...REDUCE, '-o', 'out.csv', '--record', 'run.json', '-q');
    expect(exit, stderr).toBe(0);
    expect(recordOf()).toMatchObject({ verdict: 'within', exit_code: 0 });
    // That of a run that ended is kept, and so is what only looks like one or is named as data.
    const whole = readFileSync(join(folder, 'run.json'), 'utf8');
    const kept: readonly (readonly [string, string])[] = [
      ['run.json', whole],
      ['run.json', '{"verdict": "error"}\n'],
      ['run.json', whole.replace('"verdict": "within"', '"verdict": "error"').slice(0, -20)],
      ['run.json', POINTS],
    ];
    for (const [name, text] of kept) {
      writeFileSync(join(folder, name), text);
      const again = await run(...REDUCE, '--record', name, '-q');
      expect([again.exit, again.stderr.includes('[file-output-exists]')]).toEqual([4, true]);
      expect(readFileSync(join(folder, name), 'utf8')).toBe(text);
    }
  });

  it('replaces no failed record that is named as another output, is an input, or lies outside of --confine', async () => {
    await run(...failing, '--record', 'run.json', '-q');
    const text = readFileSync(join(folder, 'run.json'), 'utf8');
    const cases: readonly (readonly [readonly string[], string])[] = [
      [[...REDUCE, '-o', 'run.json', '-q'], 'file-output-exists'],
      [[...REDUCE, '--problems', 'run.json', '-q'], 'file-output-exists'],
      [['list-runs', 'run.json', '--record', 'run.json', '-q'], 'file-output-is-input'],
      [[...REDUCE, '--record', 'run.json', '--confine', 'job', '-q'], 'file-output-exists'],
    ];
    mkdirSync(join(folder, 'job'));
    for (const [words, code] of cases) {
      const { exit, stderr } = await run(...words);
      expect([exit, stderr.includes(code)], stderr).toEqual([4, true]);
      expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe(text);
    }
  });
});

describe.skipIf(process.platform === 'win32')('--force', () => {
  it('overwrites no file through a link', async () => {
    writeFileSync(join(folder, 'precious.csv'), 'kept\n');
    symlinkSync('precious.csv', join(folder, 'out.csv'));
    const { exit, stderr } = await run(...REDUCE, '-o', 'out.csv', '--force', '-q');
    expect(exit).toBe(4);
    expect(stderr).toContain('is a link to another file, which --force would overwrite [file-output-unwritable]');
    expect(readFileSync(join(folder, 'precious.csv'), 'utf8')).toBe('kept\n');
    expect((await run(...REDUCE, '-o', 'precious.csv', '--force', '-q')).exit).toBe(0);
  });

  it('replaces a file that others may not read with one that they never could', async () => {
    writeFileSync(join(folder, 'out.csv'), '');
    chmodSync(join(folder, 'out.csv'), 0o600);
    const sink = value(
      await openSink('out.csv', { cwd: folder, stdout: new Writable(), tempDir: folder, force: true, inputs: [] }),
    );
    const temp = readdirSync(folder).find((name) => name.endsWith('.tmp')) ?? '';
    expect(statSync(join(folder, temp)).mode & 0o777).toBe(0o600);
    await sink.abort();
  });
});
