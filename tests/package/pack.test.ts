import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, ROOT, textOf } from '../support/repository-files.js';

const BUILT = existsSync(join(ROOT, 'dist', 'cli', 'main.js'));

interface Packed {
  readonly files: readonly { readonly path: string }[];
  readonly unpackedSize: number;
}

function packed(): Packed {
  // Through a shell only where npm is a script that needs one.
  const text = execFileSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
    cwd: ROOT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
    shell: process.platform === 'win32',
  });
  const [first] = JSON.parse(text) as readonly Packed[];
  if (first === undefined) throw new Error('npm pack told of no package');
  return first;
}

describe.skipIf(!BUILT)('npm pack (skipped until npm run build has been run)', () => {
  const { files, unpackedSize } = BUILT ? packed() : { files: [], unpackedSize: 0 };
  const paths = files.map(({ path }) => path);

  it('takes the program, its pages and examples, and nothing else', () => {
    const allowed =
      /^(?:(?:bin|dist|docs|examples)\/.*|package\.json|README\.md|CHANGELOG\.md|DEVELOPERS\.md|SECURITY\.md|LICENSE)$/u;
    expect(paths.filter((path) => !allowed.test(path))).toEqual([]);
    expect(paths.filter((path) => /\.(?:map|tsbuildinfo|tgz|log|tmp)$|\.test\.|node_modules|\/\./u.test(path))).toEqual(
      [],
    );
    expect(unpackedSize).toBeLessThan(13 << 20);
  });

  it('takes every module of the library with its types, and none that has no source', () => {
    const library = ['core', 'files', 'io', 'records', 'tasks'].flatMap((layer) => filesUnder(`src/${layer}`, '.ts'));
    const modules = ['src/files.ts', 'src/index.ts', ...library].map((path) =>
      path.replace(/^src\//u, 'dist/').replace(/\.ts$/u, ''),
    );
    const expected = modules.flatMap((path) => [`${path}.d.ts`, `${path}.js`]).sort();
    expect(
      paths.filter((path) => /^dist\/(?!program\/|egm96-15-minute\.bin$|THIRD-PARTY-NOTICES\.txt$)/u.test(path)).sort(),
    ).toEqual(expected);
  });

  it('takes the program as the build put it together, with the built-in geoid', () => {
    const program = paths.filter((path) => path.startsWith('dist/program/'));
    expect(program).toContain('dist/program/main.js');
    expect(program).toContain('dist/program/reduce-worker.js');
    expect([...program].sort()).toEqual([...filesUnder('dist/program', '.js')].sort());
    expect(paths).toContain('dist/egm96-15-minute.bin');
  });

  it('takes what package.json points to', () => {
    const { bin, exports } = JSON.parse(textOf('package.json')) as {
      bin: Record<string, string>;
      exports: Record<string, Record<string, string> | string>;
    };
    const named = [
      ...Object.values(bin),
      ...Object.values(exports).flatMap((entry) => (typeof entry === 'string' ? [entry] : Object.values(entry))),
    ];
    for (const path of named) expect(paths).toContain(path.replace(/^\.\//u, ''));
    expect(readFileSync(join(ROOT, 'bin', 'pegbook.js'), 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/u);
  });
});

describe('package.json', () => {
  it('pins every dependency to one version', () => {
    const { dependencies, devDependencies } = JSON.parse(textOf('package.json')) as Record<
      'dependencies' | 'devDependencies',
      Record<string, string>
    >;
    for (const [name, version] of [...Object.entries(dependencies), ...Object.entries(devDependencies)])
      expect(version, name).toMatch(/^\d+\.\d+\.\d+(?:-[a-z]+\.\d+)?$/u);
  });
});
