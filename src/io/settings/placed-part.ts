import type { SessionPart } from './session-read.js';
import type { TomlTable } from './toml/toml-table.js';

/** Settings of a session that name a file: a table, and its keys. */
const PATHS: Readonly<Record<string, readonly string[]>> = { height: ['geoid'], system: ['shift'] };

/** Words that stand where a file may, and are none. */
const NO_FILE = /^(?:egm96|epsg:\d+)$/iu;

/** The same part, its files named from another folder. `folder`: its own as seen from there, with slashes; empty: the same. */
export function placedPart({ table, given }: SessionPart, folder: string): SessionPart {
  if (folder === '') return { table, given };
  const placed: TomlTable = {
    ...table,
    table(key) {
      const inner = table.table(key);
      const paths = PATHS[key];
      if (inner === null || paths === undefined) return inner;
      return {
        ...inner,
        text(name) {
          const value = inner.text(name);
          return value === null || !paths.includes(name) || NO_FILE.test(value.trim()) || isWhole(value)
            ? value
            : `${folder}/${value}`;
        },
      };
    },
  };
  return { table: placed, given };
}

/** An absolute path, of either kind of system. */
function isWhole(path: string): boolean {
  return /^(?:[/\\]|[a-z]:[/\\])/iu.test(path);
}
