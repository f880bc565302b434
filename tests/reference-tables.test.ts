import { describe, expect, it } from 'vitest';
import { readReferenceTable } from './support/read-reference-table.js';
import { sourcesOfCases } from './support/case-sources.js';
import { filesUnder, textOf } from './support/repository-files.js';

// The tables themselves: what a row must say before it may count as a check. The tests of each
// module compare results with the rows.
const NEEDED = ['case', 'tolerance', 'tolerance_unit', 'source', 'locator', 'kind', 'note'];
const ABOUT_ALL = 'tests/reference-tables.test.ts';

const topics = filesUnder('tests/reference', '.csv').map((path) =>
  path.slice('tests/reference/'.length, -'.csv'.length),
);
const keys = new Set([...textOf('docs/references.md').matchAll(/^- \*\*([^*]+)\*\* — /gm)].map((match) => match[1]));
const tests = filesUnder('tests', '.test.ts')
  .filter((path) => path !== ABOUT_ALL)
  .map(textOf)
  .join('\n');

describe('docs/references.md', () => {
  it('gives every key once, with a text', () => {
    const lines = textOf('docs/references.md')
      .split('\n')
      .filter((line) => line.startsWith('- '));
    for (const line of lines) expect(line).toMatch(/^- \*\*[^*\s]+\*\* — \S/);
    expect(new Set(lines.map((line) => line.split('**')[1])).size).toBe(lines.length);
  });
});

for (const topic of topics) {
  describe(`tests/reference/${topic}.csv`, () => {
    const header =
      textOf(`tests/reference/${topic}.csv`)
        .split(/\r?\n/)
        .find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';

    it('has the columns that every table has, and none twice', () => {
      const columns = header.split(',').map((name) => name.trim());
      expect(columns).toEqual(expect.arrayContaining(NEEDED));
      expect(new Set(columns).size).toBe(columns.length);
      for (const column of columns) expect(column).toMatch(/^[a-z0-9]+(?:_[a-z0-9]+)*$/i);
    });

    const rows = readReferenceTable(topic);

    it('holds rows, each with a tolerance in a stated unit, above zero unless the row is an identity', () => {
      expect(rows).not.toHaveLength(0);
      for (const row of rows) {
        if (row.kind === 'identity') expect(row.tolerance, row.case).toBeGreaterThanOrEqual(0);
        else expect(row.tolerance, row.case).toBeGreaterThan(0);
        expect(row.toleranceUnit, row.case).not.toBe('');
      }
    });

    it('names a source of docs/references.md and the place in it, row by row', () => {
      for (const row of rows) {
        expect([...keys], `${row.case}: source "${row.source}"`).toContain(row.source);
        expect(row.locator, row.case).not.toBe('');
      }
    });

    it('is of the kind that its note says', () => {
      for (const row of rows) {
        const isRecalled = `${row.note} ${row.locator}`.includes('from memory');
        expect(row.kind === 'recalled', `${row.case}: ${row.kind}, "${row.locator}", "${row.note}"`).toBe(isRecalled);
        if (row.source === 'COMPUTED') expect(['independent', 'recalled', 'identity'], row.case).toContain(row.kind);
      }
    });

    it('is read by a test', () => {
      const mentions = [`'${topic}'`, `"${topic}"`, `\`${topic}\``].filter((name) => tests.includes(name));
      expect(mentions, 'quoted in a test').not.toHaveLength(0);
    });
  });
}

it('golden cases name sources of docs/references.md, where they name any', () => {
  const sourced = sourcesOfCases().flatMap(({ folder, source }) => (source === null ? [] : [{ folder, ...source }]));
  expect(sourced).not.toHaveLength(0);
  for (const { folder, key } of sourced) expect([...keys], folder).toContain(key);
});

it('golden cases with numbers say where these are from, or that they are regression', () => {
  for (const { folder, isNumeric, said, source } of sourcesOfCases())
    if (isNumeric)
      expect(
        said === 'regression' || source !== null,
        `${folder}/cmd: "# source: KEY, where in it", or "# source: regression" for what the program gave`,
      ).toBe(true);
});

it('holds a table or more', () => {
  expect(topics).not.toHaveLength(0);
});
