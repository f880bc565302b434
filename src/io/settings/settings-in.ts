import type { SettingsOf } from '../../records/settings/settings-of.js';
import { InternalError } from '../../records/internal-error.js';
import type { TomlField } from './toml/toml-schema.js';
import type { TomlTable } from './toml/toml-table.js';

/**
 * The settings of a table under the names of the program, each as given or by its default; null where it has none.
 * Given: a table checked by a schema that holds these fields; fields that are plain values.
 */
export function settingsIn<Fields extends Readonly<Record<string, TomlField>>>(
  table: TomlTable,
  fields: Fields,
): SettingsOf<Fields> {
  const settings: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(fields))
    settings[camelName(name)] = plainSetting(table, name, field) ?? field.default ?? null;
  return settings as SettingsOf<Fields>;
}

function plainSetting(table: TomlTable, name: string, { kind }: TomlField): number | string | readonly string[] | null {
  switch (kind) {
    case 'number':
      return table.number(name);
    case 'text':
      return table.text(name);
    case 'words':
      return table.words(name);
    case 'time':
      return table.time(name);
    default:
      throw new InternalError(`${name} is no plain setting`);
  }
}

/** `pole_sigma_m` as `poleSigmaM`: what `CamelName` is to types. */
function camelName(name: string): string {
  return name.replace(/_(?<letter>[a-z])/gu, (_, letter: string) => letter.toUpperCase());
}
