import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { JOB_OWN_SCHEMA } from '../../src/io/settings/job-schema.js';
import { tomlSchemaText } from '../support/toml-schema-text.js';

const page = readFileSync(new URL('../../docs/jobs.md', import.meta.url), 'utf8');

describe('docs/jobs.md', () => {
  it('holds the table of job settings as the reader has it', () => {
    const [, table] = /<!-- job settings[^\n]*\n([\s\S]*?)\n<!-- end of job settings -->/u.exec(page) ?? [];
    expect(table).toBe(tomlSchemaText(JOB_OWN_SCHEMA));
  });
});
