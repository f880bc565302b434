import { entryAt, present } from '../../records/present.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { mappedHeaders, READING_FIELDS } from '../../records/settings/column-reading.js';
import type { ColumnMapping, ColumnReading } from '../../records/settings/column-reading.js';
import type { Problem } from '../../records/problem.js';
import { errorProblem } from '../../records/problem.js';
import { settingsIn } from './settings-in.js';
import { readToml } from './toml/toml-table.js';
import type { TomlTable } from './toml/toml-table.js';

const { header: _header, words: _words, ...PLAIN_FIELDS } = READING_FIELDS;

/** The map of `[columns]`: a header alone stays a text. */
export function columnsIn(table: TomlTable): ColumnMapping {
  const mapping: Record<string, string | ColumnReading> = Object.create(null) as Record<string, string | ColumnReading>;
  for (const [name, entry] of Object.entries(table.readings('columns')))
    mapping[name] = typeof entry === 'string' ? entry : readingOf(entry);
  return mapping;
}

function readingOf(entry: TomlTable): string | ColumnReading {
  const names = present(entry.words('header'), 'the headers of a column');
  const { unit, form, zone, scale, leapSeconds, means } = settingsIn(entry, PLAIN_FIELDS);
  const words = entry.texts('words');
  const reading = {
    ...(unit !== null && { unit }),
    ...(Object.keys(words).length > 0 && { words }),
    ...(form !== null && { form }),
    ...(zone !== null && { zone }),
    ...(scale !== 'utc' && { scale }),
    ...(leapSeconds !== null && { leapSeconds }),
    ...(means !== null && { means }),
  };
  const first = entryAt(names, 0);
  if (names.length === 1 && Object.keys(reading).length === 0) return first;
  return { headers: names.length === 2 ? [first, entryAt(names, 1)] : [first], ...reading };
}

/** config-invalid-value for each header of `[columns]` that is given to two of our names: one column holds one quantity. */
export function sharedHeaders(table: TomlTable): readonly Problem[] {
  const owners = new Map<string, string>();
  return Object.entries(columnsIn(table)).flatMap(([name, source]) =>
    mappedHeaders(source).flatMap((header) => {
      const key = header.trim().toLowerCase();
      const owner = owners.get(key);
      if (owner !== undefined)
        return [
          table.problem(
            'config-invalid-value',
            `columns.${name}`,
            `${owner} and ${name} are both "${header}"`,
            'one column holds one quantity: name each its own',
          ),
        ];
      owners.set(key, name);
      return [];
    }),
  );
}

/**
 * What an option such as --columns says of one column.
 * Given: our name; the text after its equals sign: a header, or in braces what a session file says of a column. Returned: as in a
 * session. Problems: those of `readToml`; usage-invalid for braces that are no table.
 */
export function readColumnOption(name: string, text: string, option: string): Outcome<string | ColumnReading> {
  if (!/^\s*\{.*\}\s*$/su.test(text)) return success(text);
  const read = readToml(`columns.${name} = ${text}`, option, {
    named: { columns: { kind: 'readings', meaning: 'columns', fields: { named: READING_FIELDS } } },
  });
  if (!read.ok) return read;
  const source = columnsIn(read.value.table)[name];
  return source === undefined
    ? failure(
        errorProblem('usage-invalid', { message: `${option} ${name}=${text} says nothing of it`, received: text }),
      )
    : success(source);
}
