import { describe, expect, it } from 'vitest';
import { FILED_METHODS } from '../../src/core/frames/methods/filed-methods.js';
import { SHIFT_SCHEMA } from '../../src/io/settings/shift-schema.js';
import { textOf } from '../support/repository-files.js';
import { tomlSchemaText } from '../support/toml-schema-text.js';

describe('docs/shift-files.md', () => {
  it('holds the table of keys that the reader goes by', () => {
    expect(textOf('docs/shift-files.md')).toContain(`\n${tomlSchemaText(SHIFT_SCHEMA)}\n`);
  });

  it.each(FILED_METHODS)('has a row for the method $name', ({ name, code, keys }) => {
    const rows = textOf('docs/shift-files.md').split('\n');
    const terms = Object.keys(keys).join(' ');
    expect(rows.filter((row) => row.startsWith(`| ${name} (${code.replace(':', ' ')}) | \`${terms}\``))).toHaveLength(
      1,
    );
  });
});
