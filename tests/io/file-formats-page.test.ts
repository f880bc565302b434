import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FIX_COLUMNS } from '../../src/io/tables/fixes/fix-table.js';
import { SESSION_SCHEMA } from '../../src/io/settings/session-schema.js';
import { tomlSchemaText } from '../support/toml-schema-text.js';

const page = readFileSync(new URL('../../docs/file-formats.md', import.meta.url), 'utf8');

describe('docs/file-formats.md', () => {
  it('holds the table of session settings as the reader has it', () => {
    const [, table] = /<!-- session settings[^\n]*\n([\s\S]*?)\n<!-- end of session settings -->/u.exec(page) ?? [];
    expect(table).toBe(tomlSchemaText(SESSION_SCHEMA));
  });

  it('names every column of fixes', () => {
    for (const column of FIX_COLUMNS.map(({ name }) => name)) expect(page).toContain(`\`${column}\``);
  });
});
