import type { TomlTable } from './toml-table.js';

/** Lists of tables whose entries stand for each other where they have one id; of other lists the first whole one counts. */
const BY_ID = 'id';

/**
 * Several tables as one: of each setting the first table that has it counts, table within table; texts by name. In a list
 * of tables with ids those of the first come first, then those of the others whose ids are new.
 *
 * Given: at least one table, checked by one schema, the one that counts most first. Problems are located by the table that
 * has the setting.
 */
export function overlaid(tables: readonly [TomlTable, ...TomlTable[]]): TomlTable {
  const [top, ...rest] = tables;
  const [second, ...others] = rest;
  return second === undefined ? top : two(top, overlaid([second, ...others]));
}

function two(top: TomlTable, below: TomlTable): TomlTable {
  return {
    path: top.path,
    keys: [...new Set([...top.keys, ...below.keys])],
    number: (key) => top.number(key) ?? below.number(key),
    text: (key) => top.text(key) ?? below.text(key),
    words: (key) => top.words(key) ?? below.words(key),
    time: (key) => top.time(key) ?? below.time(key),
    date: (key) => top.date(key) ?? below.date(key),
    list: (key) => top.list(key) ?? below.list(key),
    texts: (key) => ({ ...below.texts(key), ...top.texts(key) }),
    readings: (key) => ({ ...below.readings(key), ...top.readings(key) }),
    table(key) {
      const [own, other] = [top.table(key), below.table(key)];
      return own !== null && other !== null ? two(own, other) : (own ?? other);
    },
    tables(key) {
      const own = top.tables(key);
      const known = new Set(own.map((table) => table.text(BY_ID)));
      return [...own, ...below.tables(key).filter((table) => !known.has(table.text(BY_ID)))];
    },
    problem: (code, key, message, hint) =>
      (top.keys.includes(key.split('.')[0] ?? key) ? top : below).problem(code, key, message, hint),
  };
}
