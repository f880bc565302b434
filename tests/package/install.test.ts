import { execFileSync, spawnSync } from 'node:child_process';
import type { SpawnSyncReturns } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';

// What a stranger does: the tarball into an empty folder, production dependencies only, then the main job from there.
const root = mkdtempSync(join(realpathSync(tmpdir()), 'pegbook-install-'));
const folder = join(root, 'Vermessung – büro 測量');
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;

/** Null, or why it cannot be installed here. */
function install(): string | null {
  if (process.platform === 'win32') return 'not tried on Windows';
  if (!existsSync(join(ROOT, 'dist', 'cli', 'main.js'))) return 'npm run build has not been run';
  mkdirSync(folder);
  execFileSync('npm', ['pack', '--silent', '--ignore-scripts', '--pack-destination', root], {
    cwd: ROOT,
    stdio: 'ignore',
  });
  const tarball = readdirSync(root).find((name) => name.endsWith('.tgz')) ?? '';
  writeFileSync(join(folder, 'package.json'), '{ "private": true, "type": "module" }\n');
  const words = [
    'install',
    '--omit=dev',
    '--prefer-offline',
    '--no-audit',
    '--no-fund',
    '--ignore-scripts',
    '--fetch-retries=0',
    join(root, tarball),
  ];
  const ended = spawnSync('npm', words, { cwd: folder, encoding: 'utf8', timeout: 110_000 });
  if (ended.status !== 0) return `npm install failed: ${(ended.stderr || String(ended.error)).slice(0, 500)}`;
  chmodSync(root, 0o755);
  return null;
}

const obstacle = install();
if (obstacle !== null) console.warn(`installation from a tarball not tested: ${obstacle}`);
const PACKAGE = join(folder, 'node_modules', 'pegbook');

afterAll(() => {
  rmSync(root, { recursive: true, force: true });
});

/** Whether this user may take the network away from a process. */
const CAN_CUT = isRoot && obstacle === null && spawnSync('unshare', ['-n', 'true']).status === 0;

/** Runs Node in the folder: as nobody where we are root, and without a network where that can be done. */
function node(args: readonly string[], cwd: string): SpawnSyncReturns<string> {
  const options = {
    cwd,
    encoding: 'utf8' as const,
    env: { PATH: process.env['PATH'] ?? '', HOME: cwd },
    ...(isRoot && !CAN_CUT && { uid: NOBODY, gid: NOBODY }),
  };
  if (!CAN_CUT) return spawnSync(process.execPath, args, options);
  return spawnSync(
    'unshare',
    [
      '-n',
      'setpriv',
      `--reuid=${String(NOBODY)}`,
      `--regid=${String(NOBODY)}`,
      '--clear-groups',
      process.execPath,
      ...args,
    ],
    options,
  );
}

describe.skipIf(obstacle !== null)('the installed package', () => {
  it('brings no package that only its makers need', () => {
    const names = readdirSync(join(folder, 'node_modules')).filter((name) => !name.startsWith('.'));
    expect(names).toContain('pegbook');
    const { devDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
      devDependencies: Record<string, string>;
    };
    expect(names.filter((name) => name in devDependencies)).toEqual([]);
  });

  it('does the main job from a path with spaces and letters of many scripts, as nobody, without a network', () => {
    const work = join(folder, 'Tag 1 – 日');
    mkdirSync(work);
    chmodSync(work, 0o777);
    const day = join(PACKAGE, 'examples', 'quillback-pan');
    const ended = node(
      [
        join(PACKAGE, 'bin', 'pegbook.js'),
        'reduce-points',
        join(day, 'fixes.csv'),
        '-s',
        join(day, 'session.toml'),
        '-o',
        'Punkte ä.csv',
      ],
      work,
    );
    expect(ended.stderr).toContain('farthest baseline');
    expect(ended.status).toBe(1);
    expect(readdirSync(work)).toEqual(['Punkte ä.csv']);
    expect(readFileSync(join(work, 'Punkte ä.csv'), 'utf8')).toBe(
      readFileSync(join(day, 'expected-points.csv'), 'utf8'),
    );
  });

  it('answers through the command that npm links', () => {
    const ended = spawnSync(join(folder, 'node_modules', '.bin', 'pegbook'), ['--version'], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect(ended.status, ended.stderr).toBe(0);
    expect(ended.stdout.trim()).toBe(
      (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string }).version,
    );
  });

  it('is a library whose types hold for a strict consumer', () => {
    writeFileSync(
      join(folder, 'consumer.ts'),
      `import { WGS84, createGeodesic, formatFixed, parseAngle, geodeticToGeocentric, orthometricHeightM } from 'pegbook';
import type { Ellipsoid, Geodesic, GeodesicLine } from 'pegbook';

const ellipsoid: Ellipsoid = WGS84;
const geodesic: Geodesic = createGeodesic(ellipsoid);
const line: GeodesicLine = geodesic.inverse(-31.5, 21.4, -31.6, 21.5);
const angle = parseAngle('25:43:55.302', 'latitude');
const degrees: number = angle.ok ? angle.value : 0;
const x: number = geodeticToGeocentric({ latitudeDeg: degrees, longitudeDeg: 21.4, ellipsoidalHeightM: 10 }, ellipsoid).xM;
const azimuth: number | null = line.azimuthDeg;
export const text: string = formatFixed(line.distanceM, 4) + ' ' + formatFixed(x, 4) + ' ' + String(azimuth === null) + formatFixed(orthometricHeightM(30, 27), 1);
// @ts-expect-error -- an ellipsoid is no text
export const wrong = (): Geodesic => createGeodesic('WGS84');
console.log(text);
`,
    );
    const tsc = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
    const compilerOptions = {
      strict: true,
      exactOptionalPropertyTypes: true,
      noUncheckedIndexedAccess: true,
      module: 'nodenext',
      target: 'es2022',
      lib: ['es2023', 'dom'],
      types: [],
    };
    writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions, files: ['consumer.ts'] }));
    const checked = spawnSync(process.execPath, [tsc, '-p', '.'], { cwd: folder, encoding: 'utf8' });
    expect(checked.stdout).toBe('');
    const ran = node([join(folder, 'consumer.js')], folder);
    expect(ran.stdout, ran.stderr).toMatch(/^14597\.\d{4} \d+\.\d{4} false3\.0\n$/u);
  });

  it('lets nobody import what it does not name', () => {
    const ended = node(['--input-type=module', '-e', "await import('pegbook/dist/io/sink.js')"], folder);
    expect(ended.stderr).toContain('ERR_PACKAGE_PATH_NOT_EXPORTED');
  });
});
