import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../../support/browser.js';
import { htmlFaults } from '../../../support/html-faults.js';
import { runInProcess } from '../../../support/run-in-process.js';
import type { RunResult } from '../../../support/run-in-process.js';
import { unzipped } from '../../../support/unzipped.js';

const EXAMPLE = fileURLToPath(new URL('../../../../examples/quillback-pan-days', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'deliver-'));
const run = (words: readonly string[], seconds = '1778700000'): Promise<RunResult> =>
  runInProcess([...words], { cwd: folder, env: { SOURCE_DATE_EPOCH: seconds } });
const at = (...names: readonly string[]): string => join(folder, ...names);
const filesOf = (path: string): readonly string[] =>
  readdirSync(path, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => statSync(join(path, name)).isFile())
    .sort();
const digest = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

beforeAll(async () => {
  cpSync(EXAMPLE, at('job'), { recursive: true });
  const reduced = await run(
    'reduce-points --job job/job.toml -o job/points.csv --record job/run.json --report job/days.html'.split(' '),
  );
  expect(reduced.exit, reduced.stderr).toBe(1);
  const delivered = await run('deliver --job job/job.toml -o delivery'.split(' '));
  expect(delivered.exit, delivered.stderr).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('deliver --check-only', () => {
  it('says what it would deliver and leaves nothing, in either form', async () => {
    const before = filesOf(folder);
    for (const name of ['other', 'other.zip']) {
      const checked = await run(['deliver', '--job', 'job/job.toml', '-o', name, '--check-only']);
      expect([checked.exit, checked.stderr]).toEqual([0, '']);
      const { schema, inputs } = JSON.parse(checked.stdout.toString()) as {
        schema: string;
        inputs: { name: string }[];
      };
      expect(schema).toBe('pegbook-settings-in-force');
      expect(inputs.map((input) => input.name)).toEqual(expect.arrayContaining(['job.toml', 'points.csv']));
    }
    expect(filesOf(folder)).toEqual(before);
  });
});

describe('deliver', () => {
  it('leaves the files that the page names, each with its digest in a manifest', () => {
    const lines = ['manifest-sha256.txt', 'tagmanifest-sha256.txt'].flatMap((name) =>
      readFileSync(at('delivery', name), 'utf8').trimEnd().split('\n'),
    );
    expect(lines.map((line) => line.slice(66)).sort()).toEqual(
      filesOf(at('delivery')).filter((name) => name !== 'tagmanifest-sha256.txt'),
    );
    for (const line of lines) expect(line.slice(0, 64), line).toBe(digest(at('delivery', line.slice(66))));
    expect(filesOf(at('delivery', 'data'))).toEqual([
      'coordinates.csv',
      'coordinates.geojson',
      'digests.csv',
      'front-sheet.html',
      'job-ledger.jsonl',
      'records/run.json',
      'reports/days.html',
      'tables/points.csv',
    ]);
    expect(digest(at('delivery/data/tables/points.csv'))).toBe(digest(at('job/points.csv')));
  });

  it('gives the same bytes at another time, as a folder and as a ZIP file, and adds no line to the ledger', async () => {
    const before = digest(at('job/job-ledger.jsonl'));
    expect((await run('deliver --job job/job.toml -o again'.split(' '), '1900000000')).exit).toBe(0);
    expect((await run('deliver --job job/job.toml -o delivery.zip'.split(' '), '1900000000')).exit).toBe(0);
    expect(filesOf(at('again')).map((name) => [name, digest(at('again', name))])).toEqual(
      filesOf(at('delivery')).map((name) => [name, digest(at('delivery', name))]),
    );
    const zipped = unzipped(readFileSync(at('delivery.zip'))).map(({ path, text }) => [path, text]);
    expect(zipped.sort()).toEqual(
      filesOf(at('delivery'))
        .map((name) => [`delivery/${name}`, readFileSync(at('delivery', name), 'utf8')])
        .sort(),
    );
    expect(digest(at('job/job-ledger.jsonl'))).toBe(before);
  });

  it('has every point with the digits of the file that was reduced', () => {
    const read = (path: string): Record<string, string>[] => parse(readFileSync(path), { columns: true });
    const points = read(at('job/points.csv'));
    const list = read(at('delivery/data/coordinates.csv'));
    expect(list).toHaveLength(points.length);
    for (const [i, row] of list.entries())
      for (const [name, cell] of Object.entries(row)) expect(cell).toBe(points[i]?.[name]);
    const map = JSON.parse(readFileSync(at('delivery/data/coordinates.geojson'), 'utf8')) as {
      features: { geometry: { coordinates: number[] }; properties: Record<string, unknown> }[];
    };
    expect(map.features.map(({ geometry }) => geometry.coordinates)).toEqual(
      list.map((row) => [row['longitude_deg'], row['latitude_deg'], row['ellipsoidal_height_m']].map(Number)),
    );
    expect(map.features[0]?.properties['frame']).toBe('EPSG:4148 Hartebeesthoek94');
  });

  it('says on its front sheet what it is, and is good HTML', async () => {
    const html = readFileSync(at('delivery/data/front-sheet.html'), 'utf8');
    for (const text of [
      'Quillback Pan dam, eight days (invented)',
      'Quillback Pan Water Board (invented)',
      '28 points with coordinates.',
      'EPSG:2049 Hartebeesthoek94 / Lo21',
      'egm96',
      'latitude \u221231.5°',
      'Renamed: P23 to P24 (the number was taken already).',
      digest(at('delivery/data/coordinates.csv')),
      '<b>Not within.</b>',
      '<b>Not checked.</b>',
      'Handed over: <bdi class="l">A. Surveyor (invented)</bdi>',
      'Received: <bdi class="l">Quillback Pan Water Board (invented)</bdi>',
      'not a legal survey',
    ])
      expect(html).toContain(text);
    expect(await htmlFaults(html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is one sheet of paper, and no wider than a telephone',
    async () => {
      const browser = await openBrowser();
      try {
        const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
        await page.goto(`file://${at('delivery/data/front-sheet.html')}`);
        expect(Number(await page.evaluate('document.documentElement.scrollWidth'))).toBeLessThanOrEqual(360);
        const pdf = await page.pdf({ preferCSSPageSize: true });
        expect(pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/gu)).toHaveLength(1);
      } finally {
        await browser.close();
      }
    },
    60_000,
  );

  it('delivers nothing where something changed, and names it', async () => {
    const control = readFileSync(at('job/days/2026-05-13.csv'));
    writeFileSync(at('job/days/2026-05-13.csv'), Buffer.concat([control, Buffer.from(' ')]));
    const refused = await run('deliver --job job/job.toml -o changed'.split(' '));
    writeFileSync(at('job/days/2026-05-13.csv'), control);
    expect(refused.exit).toBe(1);
    expect(refused.stderr).toContain(
      'days/2026-05-13.csv: read by line 1 (reduce-points), and is another now [job-input-changed]',
    );
    expect(readdirSync(folder)).not.toContain('changed');
    expect((await run('deliver --job job/job.toml -o changed'.split(' '))).exit).toBe(0);
  });

  it('refuses what it cannot deliver', async () => {
    const codes: string[] = [];
    for (const words of [
      'deliver -o a',
      'deliver --job job/job.toml',
      'deliver --job job/job.toml -o -',
      'deliver --job job/job.toml -o delivery',
      'deliver --job job/job.toml -o a --points job/run.json',
      'deliver --job job/job.toml -o a --files job/control.csv',
      'deliver --job job/none.toml -o a',
    ]) {
      const { exit, stderr } = await run(words.split(' '));
      codes.push(`${String(exit)} ${/\[([a-z-]+)\]/u.exec(stderr)?.[1] ?? stderr}`);
    }
    expect(codes).toEqual([
      '2 usage-invalid',
      '2 usage-invalid',
      '2 usage-conflict',
      '4 file-output-exists',
      '1 delivery-without-points',
      '2 usage-invalid',
      '4 file-not-found',
    ]);
    expect(readdirSync(folder)).not.toContain('a');
  });

  it('needs the record of the run', async () => {
    cpSync(EXAMPLE, at('bare'), { recursive: true });
    await run('reduce-points --job bare/job.toml -o bare/points.csv'.split(' '));
    const refused = await run('deliver --job bare/job.toml -o b'.split(' '));
    expect(refused.exit).toBe(1);
    expect(refused.stderr).toContain('[delivery-without-record]');
  });
});

describe('the ledger of a run', () => {
  it('has no line of a run that errors stopped, nor of outputs that could not appear', async () => {
    cpSync(EXAMPLE, at('twice'), { recursive: true });
    const words = 'reduce-points --job twice/job.toml -o twice/points.csv'.split(' ');
    await run(words);
    const before = readFileSync(at('twice/job-ledger.jsonl'), 'utf8');
    expect((await run(words)).exit).toBe(4);
    expect(readFileSync(at('twice/job-ledger.jsonl'), 'utf8')).toBe(before);
    expect((await run([...words, '--force'])).exit).toBe(1);
    expect(readFileSync(at('twice/job-ledger.jsonl'), 'utf8').split('\n')).toHaveLength(3);
  });

  it('shows no output where the line cannot be written', async () => {
    cpSync(EXAMPLE, at('damaged'), { recursive: true });
    writeFileSync(at('damaged/job-ledger.jsonl'), 'not a line');
    const refused = await run(
      'reduce-points --job damaged/job.toml -o damaged/points.csv --record damaged/run.json'.split(' '),
    );
    expect(refused.exit).toBe(3);
    expect(refused.stderr).toContain('[ledger-damaged]');
    expect(readdirSync(at('damaged')).filter((name) => /^\.?(?:points|run|job-ledger)/u.test(name))).toEqual([
      'job-ledger.jsonl',
    ]);
    expect(readFileSync(at('damaged/job-ledger.jsonl'), 'utf8')).toBe('not a line');
  });

  it('is of the clock where no time is set', async () => {
    cpSync(EXAMPLE, at('clock'), { recursive: true });
    const earliest = Date.now();
    await runInProcess('reduce-points --job clock/job.toml -o clock/points.csv'.split(' '), { cwd: folder, env: {} });
    const line = JSON.parse(readFileSync(at('clock/job-ledger.jsonl'), 'utf8')) as { time_utc: string };
    expect(Date.parse(line.time_utc)).toBeGreaterThanOrEqual(earliest - 1000);
    expect(Date.parse(line.time_utc)).toBeLessThanOrEqual(Date.now() + 1000);
  });
});
