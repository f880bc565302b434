import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { thirdParties } from '../../tools/third-party-notices.mjs';
import { ROOT, textOf } from '../support/repository-files.js';

const NOTICES = 'dist/THIRD-PARTY-NOTICES.txt';

describe('what the program is made of', () => {
  it('has a licence of a known, permissive kind for every package', () => {
    const kinds = new Set(thirdParties().map(({ license }) => license));
    expect(
      [...kinds].filter(
        (kind) =>
          !['MIT', 'ISC', 'BSD-3-Clause', 'Apache-2.0', 'CC0-1.0', '(MIT AND Zlib)', 'MIT AND BSD-3-Clause'].includes(
            kind,
          ),
      ),
    ).toEqual([]);
  });

  it.skipIf(!existsSync(join(ROOT, NOTICES)))(
    'has a notice for every package it runs on, and for the data it copies (skipped until npm run build has been run)',
    () => {
      const text = textOf(NOTICES);
      const { dependencies } = JSON.parse(textOf('package.json')) as { dependencies: Record<string, string> };
      for (const [name, version] of Object.entries(dependencies)) expect(text).toContain(`\n${name} ${version}, `);
      expect(text).toContain('\negm96-universal ');
      expect(text).not.toContain('was not installed');
    },
  );

  it('has a bill of materials with the same packages', () => {
    const text = execFileSync('npm', ['run', '--silent', 'sbom'], {
      cwd: ROOT,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      shell: process.platform === 'win32',
    });
    const { components } = JSON.parse(text) as { components: readonly { name: string; version: string }[] };
    const listed = components.map(({ name, version }) => `${name} ${version}`).sort();
    const expected = thirdParties()
      .filter(({ isOfProgram }) => isOfProgram)
      .map(({ name, version }) => `${name} ${version}`)
      .sort();
    expect(listed).toEqual(expected);
  });
});
