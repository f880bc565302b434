import { describe, expect, it } from 'vitest';
import { EXIT_CODES } from '../src/cli/shell/exit-codes.js';
import { COMMANDS } from '../src/cli/shell/program.js';
import { PROBLEM_CODES } from '../src/records/codes/problem-codes.js';
import { renderCommandPage, renderSharedOptions } from '../tools/render-command-page.js';
import { KIND_WORDS, withEvidence } from '../tools/render-evidence.js';
import { renderOptionValues } from '../tools/render-option-values.js';
import { withColumns } from '../tools/render-columns.js';
import { renderProblemCodes } from '../tools/render-problem-codes.js';
import { COLUMN_TABLES } from './support/column-tables.js';
import { sourcesOfCases } from './support/case-sources.js';
import { readReferenceTable, REFERENCE_KINDS } from './support/read-reference-table.js';
import { filesUnder, textOf } from './support/repository-files.js';

// Pages written from the code itself. `npm run docs` rewrites them.
describe('generated pages', () => {
  for (const spec of COMMANDS) {
    it(`docs/cli/${spec.name}.md says what the command says`, async () => {
      await expect(renderCommandPage(spec)).toMatchFileSnapshot(`../docs/cli/${spec.name}.md`);
    });
  }

  it('docs/shared-options.md says what the tables say', async () => {
    await expect(renderSharedOptions()).toMatchFileSnapshot('../docs/shared-options.md');
  });

  it('docs/problem-codes.md says what the tables say', async () => {
    await expect(renderProblemCodes(PROBLEM_CODES, Object.values(EXIT_CODES))).toMatchFileSnapshot(
      '../docs/problem-codes.md',
    );
  });

  it('src/cli/shell/option-values.ts has the options that the commands have', async () => {
    await expect(renderOptionValues(COMMANDS)).toMatchFileSnapshot('../src/cli/shell/option-values.ts');
  });

  it('docs/tests.md counts the kinds of evidence', async () => {
    expect(Object.keys(KIND_WORDS)).toEqual(REFERENCE_KINDS);
    const tables = filesUnder('tests/reference', '.csv').map((path) => {
      const table = path.slice('tests/reference/'.length, -'.csv'.length);
      const rows = readReferenceTable(table);
      return { table, rows: REFERENCE_KINDS.map((kind) => rows.filter((row) => row.kind === kind).length) };
    });
    const cases = sourcesOfCases();
    const page = withEvidence(textOf('docs/tests.md'), tables, {
      sourced: cases.filter(({ source }) => source !== null).length,
      all: cases.length,
    });
    await expect(page).toMatchFileSnapshot('../docs/tests.md');
  });

  it('docs/file-formats.md holds the columns as they are described', async () => {
    await expect(withColumns(textOf('docs/file-formats.md'), COLUMN_TABLES)).toMatchFileSnapshot(
      '../docs/file-formats.md',
    );
  });

  it('no page is left of a command that is gone', () => {
    const wanted = COMMANDS.map((spec) => `docs/cli/${spec.name}.md`);
    expect(filesUnder('docs/cli', '.md').filter((page) => !wanted.includes(page))).toEqual([]);
  });
});
