import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';

const BUILT = existsSync(join(ROOT, 'dist', 'program', 'main.js'));
const SELDOM = ['proj4', 'csv-parse/sync', 'csv-stringify/sync'];

describe.skipIf(!BUILT)('packages that most runs never call (skipped until npm run build has been run)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-seldom-'));
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });
  // Names every package that is required while the program runs.
  writeFileSync(
    join(folder, 'watch.cjs'),
    "const Module = require('node:module');\nconst load = Module._load;\nModule._load = function (name, ...rest) { process.stderr.write(`[loads ${name}]\\n`); return load.call(this, name, ...rest); };\n",
  );
  writeFileSync(join(folder, 'plain.csv'), 'point_id,latitude_deg,longitude_deg,note\nA,46.5,2.9,x\n');
  writeFileSync(join(folder, 'quoted.csv'), 'point_id,latitude_deg,longitude_deg,note\n"A",46.5,2.9,"x, y"\n');

  function run(input: string, to: string): { readonly loaded: readonly string[]; readonly out: string } {
    const { status, stderr } = spawnSync(
      process.execPath,
      [
        '--require',
        join(folder, 'watch.cjs'),
        join(ROOT, 'bin', 'pegbook.js'),
        'transform',
        input,
        '--from',
        'EPSG:4326',
        '--to',
        to,
        '-o',
        'out.csv',
        '--force',
        '-q',
      ],
      { cwd: folder, encoding: 'utf8' },
    );
    expect(status).toBe(0);
    return {
      loaded: SELDOM.filter((name) => stderr.includes(`[loads ${name}]`)),
      out: readFileSync(join(folder, 'out.csv'), 'utf8'),
    };
  }

  it('are not loaded for plain cells and a transverse Mercator grid', () => {
    const { loaded, out } = run('plain.csv', 'EPSG:32631');
    expect(loaded).toEqual([]);
    expect(out).toContain('\nA,');
  });

  it('are loaded for another projection, and for quotes in and out', () => {
    expect(run('plain.csv', 'EPSG:3857').loaded).toEqual(['proj4']);
    const { loaded, out } = run('quoted.csv', 'EPSG:3857');
    expect(loaded).toEqual(SELDOM);
    expect(out).toContain(',"x, y"\n');
  });
});
