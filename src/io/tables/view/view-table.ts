import { Buffer } from 'node:buffer';
import { entryAt } from '../../../records/present.js';
import type { Problem } from '../../../records/problem.js';
import type { AskedView } from './asked-view.js';
import { createRowShower } from './row-shower.js';
import type { RowShower } from './row-shower.js';
import { cellValue, linesOf, memberValue, rawCells, rawMembers } from './split-rows.js';

const BYTE_ORDER_MARK = '\uFEFF';
/** The first line of a document of ours opens its list of rows, or holds it where it is empty. */
const LIST_HEAD = /\[\n$|\[\]/u;
/** What stands before the members of a row of GeoJSON, and is kept, and the members. */
const PROPERTIES = /^(?<before>.*?"properties":)\{(?<members>.*)\}\}$/u;

/** A table that was written as it is made, shown otherwise. */
export interface ViewedTable {
  /** The change that the whole text goes through, once. */
  readonly change: (chunks: AsyncIterable<Buffer>) => AsyncGenerator<Buffer>;
  /** Why it could not be shown so; null: it could. Ask after the change. */
  readonly problem: () => Problem | null;
}

/** How the table was written, and whether its header is to stay. */
export interface WrittenTable {
  readonly format: 'csv' | 'geojson' | 'json' | 'jsonl';
  readonly keepsHeader: boolean;
}

/**
 * Shows a table that any command of ours wrote as it is asked for: columns chosen, decimals cut, rows sorted. Rows go by one at a time; a
 * sort holds them, in half of the memory that there is.
 *
 * Given: what is asked for; the table's form: CSV with its header, GeoJSON and JSON with one row a line, or rows of JSON alone.
 * Problems: those of `rowView`; file-too-large for more rows than a sort can hold.
 */
export function viewTable(asked: AskedView, { format, keepsHeader }: WrittenTable): ViewedTable {
  const rows = createRowShower(asked);
  return {
    problem: rows.problem,
    async *change(chunks) {
      const text = format === 'csv' ? csvShown(rows, chunks, keepsHeader) : jsonShown(rows, chunks, format);
      for await (const piece of text) yield Buffer.from(piece, 'utf8');
    },
  };
}

async function* csvShown(rows: RowShower, chunks: AsyncIterable<Buffer>, keepsHeader: boolean): AsyncGenerator<string> {
  for await (const line of linesOf(chunks, true)) {
    const end = line.endsWith('\r\n') ? '\r\n' : '\n';
    if (!rows.isSettled()) {
      const mark = line.startsWith(BYTE_ORDER_MARK) ? BYTE_ORDER_MARK : '';
      const raw = rawCells(line.slice(mark.length));
      if (!rows.settle(raw.map(cellValue))) return;
      const header = rows.places().map((place) => entryAt(raw, place));
      if (keepsHeader) yield `${mark}${header.join(',')}${end}`;
      continue;
    }
    const raw = rawCells(line);
    const values = raw.map(cellValue);
    const text = rows.shown(values, (cells) => `${asWritten(cells, values, raw, rows.places()).join(',')}${end}`);
    if (text === null) return;
    if (text !== '') yield text;
  }
  yield* rows.held();
}

/** Cells whose value did not change as they stood, quotes and all. */
function asWritten(
  cells: readonly string[],
  values: readonly string[],
  raw: readonly string[],
  places: readonly number[],
): readonly string[] {
  return cells.map((cell, at) => {
    const place = places[at] ?? -1;
    // A row may be shorter than its header.
    return cell === values[place] ? (raw[place] ?? '') : cell;
  });
}

async function* jsonShown(
  rows: RowShower,
  chunks: AsyncIterable<Buffer>,
  format: Exclude<WrittenTable['format'], 'csv'>,
): AsyncGenerator<string> {
  const isList = format !== 'jsonl';
  let isHead = isList;
  let any = false;
  let tail = '';
  const put = (text: string): string => {
    const before = isList && any ? ',\n' : '';
    any = true;
    return `${before}${text}${isList ? '' : '\n'}`;
  };
  for await (const line of linesOf(chunks, false)) {
    const row = line.replace(/,?\n$/u, '');
    if (isHead) {
      isHead = false;
      if (!LIST_HEAD.test(line)) {
        rows.refuse();
        return;
      }
      yield line;
    } else if (!row.startsWith('{')) tail += line;
    else {
      const text = jsonRowShown(rows, row, format);
      if (text === null) return;
      if (text !== '') yield put(text);
    }
  }
  for (const text of rows.held()) yield put(text);
  if (isList) yield `${any ? '\n' : ''}${tail}`;
}

function jsonRowShown(rows: RowShower, row: string, format: WrittenTable['format']): string | null {
  const isFeature = format === 'geojson';
  const { before = '', members: text = '' } = isFeature
    ? (PROPERTIES.exec(row)?.groups ?? {})
    : { before: '', members: row.slice(1, -1) };
  const members = rawMembers(text);
  // What is not flat is no row of a table: nothing of it may be dropped in silence.
  if (members.map(([name, raw]) => `${JSON.stringify(name)}:${raw}`).join(',') !== text) {
    rows.refuse();
    return null;
  }
  if (!rows.isSettled() && !rows.settle(members.map(([name]) => name))) return null;
  const values = members.map(([, raw]) => memberValue(raw));
  const raws = members.map(([, raw]) => raw);
  return rows.shown(values, (cells) => {
    const places = rows.places();
    const kept = asWritten(cells, values, raws, places).map(
      (cell, at) => `${JSON.stringify(entryAt(members, entryAt(places, at))[0])}:${cell}`,
    );
    return `${before}{${kept.join(',')}}${isFeature ? '}' : ''}`;
  });
}
