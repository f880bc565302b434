import { ESLint } from 'eslint';
import type { Linter } from 'eslint';
import regexp from 'eslint-plugin-regexp';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import tseslint from 'typescript-eslint';
import { ROOT } from '../support/repository-files.js';

// A pattern can take quadratic time in two ways: by going back within an attempt, and by trying again from every
// character. Both are shown by its structure, so no clock is needed.
const RULES: Linter.RulesRecord = {
  'regexp/no-super-linear-backtracking': ['error', { report: 'potential' }],
  'regexp/no-super-linear-move': ['error', { report: 'certain', ignoreSticky: true, ignorePartial: false }],
};

async function complaints(code: { readonly files: string } | { readonly text: string }): Promise<readonly string[]> {
  const eslint = new ESLint({
    cwd: ROOT,
    overrideConfigFile: true,
    overrideConfig: [
      { files: ['**/*.ts'], languageOptions: { parser: tseslint.parser }, plugins: { regexp }, rules: RULES },
    ],
    allowInlineConfig: false,
  });
  const results =
    'text' in code
      ? await eslint.lintText(code.text, { filePath: join(ROOT, 'src', 'planted.ts') })
      : await eslint.lintFiles([code.files]);
  return results.flatMap(({ filePath, messages }) =>
    messages.map(({ line, message }) => `${filePath.slice(ROOT.length)}:${String(line)}: ${message}`),
  );
}

describe('regular expressions', () => {
  it('of the program take no more than linear time on any text', async () => {
    const found = await complaints({ files: 'src/**/*.ts' });
    // A label of a figure is cut to a few dozen characters before that pattern sees it.
    expect(found.filter((text) => !text.startsWith('src/report/page/words/visible-text.ts:6:'))).toEqual([]);
  });

  it('that are quadratic or worse are caught by this check', async () => {
    expect(await complaints({ text: 'export const planted = /^(a+)+$/u;' })).toHaveLength(1);
    expect(await complaints({ text: 'export const planted = /a+$/u;' })).toHaveLength(1);
  });
});
