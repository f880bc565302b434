import type { Buffer } from 'node:buffer';
import { StringDecoder } from 'node:string_decoder';

/** Lines of a text with their ends; with `isQuoted` a line end within double quotes ends none. */
export async function* linesOf(chunks: AsyncIterable<Buffer>, isQuoted: boolean): AsyncGenerator<string> {
  const decoder = new StringDecoder('utf8');
  let open: string[] = [];
  let isInside = false;
  for await (const chunk of chunks) {
    const text = decoder.write(chunk);
    let start = 0;
    for (let at = 0; at < text.length; at += 1) {
      if (isQuoted && text[at] === '"') isInside = !isInside;
      if (text[at] !== '\n' || isInside) continue;
      yield open.join('') + text.slice(start, at + 1);
      open = [];
      start = at + 1;
    }
    if (start < text.length) open.push(text.slice(start));
  }
  const rest = open.join('') + decoder.end();
  if (rest !== '') yield rest;
}

/** The cells of a line of our CSV as they stand, quotes and all, without the line's end. */
export function rawCells(line: string): readonly string[] {
  const body = line.replace(/\r?\n$/u, '');
  if (!body.includes('"')) return body.split(',');
  const cells: string[] = [];
  let isInside = false;
  let start = 0;
  for (let at = 0; at < body.length; at += 1) {
    if (body[at] === '"') isInside = !isInside;
    if (body[at] !== ',' || isInside) continue;
    cells.push(body.slice(start, at));
    start = at + 1;
  }
  return [...cells, body.slice(start)];
}

/** What a raw cell holds. */
export function cellValue(raw: string): string {
  return raw.startsWith('"') && raw.endsWith('"') && raw.length > 1 ? raw.slice(1, -1).replaceAll('""', '"') : raw;
}

/** The members of a flat object of ours as they stand: name and raw value. Values are numbers, texts, null, or lists of texts. */
export function rawMembers(object: string): readonly (readonly [string, string])[] {
  const members: (readonly [string, string])[] = [];
  const member =
    /(?<name>"(?:[^"\\]|\\.)*"):(?<value>"(?:[^"\\]|\\.)*"|\[(?:[^"\]]|"(?:[^"\\]|\\.)*")*\]|[^,"[\]{}]+)/gu;
  for (const { groups } of object.matchAll(member))
    // Both groups are in every match.
    if (groups !== undefined) members.push([JSON.parse(groups['name'] ?? '""') as string, groups['value'] ?? '']);
  return members;
}

/** What a raw value holds, as a cell of CSV would. */
export function memberValue(raw: string): string {
  if (raw === 'null') return '';
  if (raw.startsWith('"')) return JSON.parse(raw) as string;
  return raw.startsWith('[') ? (JSON.parse(raw) as unknown[]).map(String).join(';') : raw;
}
