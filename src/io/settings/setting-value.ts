import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { parseToml } from './toml/toml-table.js';

/** What a setting may hold. */
export type SettingValue = string | number | readonly SettingValue[] | { readonly [key: string]: SettingValue };

/**
 * A value of a setting as it is typed: a number, a quoted text, a list or a table as in a session file; anything else is the text itself.
 * Problems: config-syntax for a list or table that is none.
 */
export function settingValue(text: string, option: string): Outcome<SettingValue> {
  if (!/^\s*(?:["'[{]|[+-]?\d)/u.test(text)) return success(text);
  const parsed = parseToml(`value = ${text}`, option);
  const isOpen = /^\s*["'[{]/u.test(text);
  if (!parsed.ok) return isOpen ? parsed : success(text);
  const { value } = parsed.value as { readonly value: SettingValue | Date };
  return success(value instanceof Date ? text : value);
}
