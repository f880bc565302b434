/**
 * The entry of a table under a name that a user typed.
 *
 * Given: a record of known names; any text.
 * Returned: the entry; undefined where the table has none, also for names that every object answers
 * to, such as `constructor` and `__proto__`.
 */
export function ownEntry<T>(table: Readonly<Record<string, T>>, name: string): T | undefined {
  return Object.hasOwn(table, name) ? table[name] : undefined;
}
