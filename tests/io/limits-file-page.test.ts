import { describe, expect, it } from 'vitest';
import { LIMIT_FIELDS } from '../../src/records/settings/limit-fields.js';
import { textOf } from '../support/repository-files.js';
import { tomlSchemaText } from '../support/toml-schema-text.js';

describe('docs/methods/limits.md', () => {
  it('holds the table of keys that the reader goes by', () => {
    expect(textOf('docs/methods/limits.md')).toContain(`\n${tomlSchemaText({ named: LIMIT_FIELDS })}\n`);
  });
});
