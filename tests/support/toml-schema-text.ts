import { tomlExpectation } from '../../src/io/settings/toml/toml-schema.js';
import type { TomlField, TomlSchema } from '../../src/io/settings/toml/toml-schema.js';

/** A schema as a Markdown table, for docs/file-formats.md: key, what it holds, default, meaning. */
export function tomlSchemaText(schema: TomlSchema): string {
  const rows = fieldRows(schema, '');
  return ['| key | holds | default | meaning |', '|---|---|---|---|', ...rows].join('\n');
}

function fieldRows(schema: TomlSchema, prefix: string): readonly string[] {
  const rows = Object.entries(schema.named).flatMap(([key, field]) => {
    const path = `${prefix}${key}${field.kind === 'tables' ? '[]' : ''}`;
    const below =
      field.kind === 'table' || field.kind === 'tables'
        ? fieldRows(field.fields, `${path}.`)
        : field.kind === 'readings'
          ? fieldRows(field.fields, `${path}.NAME.`)
          : [];
    return [row(path, field), ...below];
  });
  if (schema.others === undefined) return rows;
  return [
    ...rows,
    `| \`${prefix}…\`: ${schema.others.shown} | ${tomlExpectation(schema.others.field)} | | ${schema.others.field.meaning} |`,
  ];
}

function row(path: string, field: TomlField): string {
  const standing = field.isRequired === true ? 'needed' : (field.byDefault ?? defaultText(field));
  return `| \`${path}\` | ${tomlExpectation(field)} | ${standing} | ${field.meaning} |`;
}

/** The default as it would be written in the file, and what is said of it. */
function defaultText({ default: value, remark }: TomlField): string {
  if (value === undefined) return '';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return remark === undefined ? text : `${text}, ${remark}`;
}
