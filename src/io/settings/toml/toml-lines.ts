const TABLE = /^\s*(\[\[?)([^[\]][^\]]*)\]/;
const KEY = /^\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=/;

/**
 * Where settings stand in a TOML text: from dotted path (`base[0].broadcast`) to line, from 1. Keys inside an inline
 * table are not listed; ask with `tomlLine`, which falls back to what holds them.
 */
export function tomlLines(text: string): ReadonlyMap<string, number> {
  const lines = new Map<string, number>();
  const counts = new Map<string, number>();
  let prefix = '';
  text.split(/\r?\n/).forEach((line, index) => {
    const table = TABLE.exec(line);
    if (table !== null) {
      let path = pathWithIndexes(table[2] ?? '', counts);
      if (table[1] === '[[') {
        const count = counts.get(path) ?? 0;
        counts.set(path, count + 1);
        path = `${path}[${String(count)}]`;
      }
      prefix = path;
      if (!lines.has(path)) lines.set(path, index + 1);
      return;
    }
    const key = KEY.exec(line);
    if (key === null) return;
    const path = prefix === '' ? plain(key[1] ?? '') : `${prefix}.${plain(key[1] ?? '')}`;
    if (!lines.has(path)) lines.set(path, index + 1);
  });
  return lines;
}

/** Line of a setting, or of the nearest thing that holds it; null when nothing does. */
export function tomlLine(lines: ReadonlyMap<string, number>, path: string): number | null {
  for (let rest = path; rest !== ''; rest = rest.slice(0, Math.max(0, rest.lastIndexOf('.')))) {
    const line = lines.get(rest);
    if (line !== undefined) return line;
  }
  return null;
}

function plain(key: string): string {
  return key
    .split('.')
    .map((part) => part.trim().replace(/^["']|["']$/g, ''))
    .join('.');
}

/** `base.known` under `[[base]]` belongs to the entry last opened. */
function pathWithIndexes(name: string, counts: ReadonlyMap<string, number>): string {
  const parts = plain(name.trim()).split('.');
  let path = '';
  parts.forEach((part, index) => {
    path = path === '' ? part : `${path}.${part}`;
    const count = counts.get(path);
    if (count !== undefined && index < parts.length - 1) path = `${path}[${String(count - 1)}]`;
  });
  return path;
}
