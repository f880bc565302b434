import { plainText } from './table-cells.js';

/** A table as a reader has it. */
export interface ReadTable {
  /** The bold words that its caption begins with. */
  readonly name: string;
  readonly caption: string;
  /** Heads with their units, `Plan, 95 %, m`; the second of two that are alike ends with `#2`. */
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Every table of a page, in order. */
export function tablesOf(html: string): readonly ReadTable[] {
  return [...html.matchAll(/<table>([\s\S]*?)<\/table>/gu)].map(([, table = '']) => {
    const caption = /<caption>([\s\S]*?)<\/caption>/u.exec(table)?.[1] ?? '';
    const seen = new Map<string, number>();
    const heads = [...table.matchAll(/<th scope="col"[^>]*>([\s\S]*?)<\/th>/gu)].map(([, head = '']) => {
      const name = plainText(head.replace('<span class="unit">', ', '));
      seen.set(name, (seen.get(name) ?? 0) + 1);
      const count = seen.get(name) ?? 1;
      return count === 1 ? name : `${name} #${String(count)}`;
    });
    const body = /<tbody>([\s\S]*?)<\/tbody>/u.exec(table)?.[1] ?? '';
    return {
      name: plainText(/<b>([\s\S]*?)<\/b>/u.exec(caption)?.[1] ?? ''),
      caption: plainText(caption),
      heads,
      rows: [...body.matchAll(/<tr>([\s\S]*?)<\/tr>/gu)].map(([, row = '']) =>
        [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/gu)].map(([, cell = '']) => plainText(cell)),
      ),
    };
  });
}

/** Names of every drawing of a page, in order. */
export function drawingsOf(html: string): readonly string[] {
  return [...html.matchAll(/aria-labelledby="([\w-]+)-t /gu)].map(([, id = '']) => id);
}

export type DataRow = Readonly<Record<string, unknown>>;
/** Null: the cell says what the row has; else what it should say. */
export type CellCheck = (cell: string, row: DataRow) => string | null;

/** A value of a row as text; empty where there is none. */
export function textAt(row: DataRow, name: string): string {
  const value = row[name];
  if (!(name in row)) throw new Error(`no column ${name}`);
  if (Array.isArray(value)) return value.join(';');
  return typeof value === 'string' ? value : value === null ? '' : JSON.stringify(value);
}

const said = (cell: string, wanted: string): string | null => (cell === wanted ? null : wanted);

/** The same words; of several with semicolons between the page has commas. */
export function words(name: string, write: (text: string) => string = (text) => text): CellCheck {
  return (cell, row) => said(cell, write(textAt(row, name)).replaceAll(/;(?! )/gu, ', '));
}

/** The same number to the digits printed, times `factor`; a dash or nothing where there is none. */
export function number(name: string, factor = 1): CellCheck {
  return (cell, row) => {
    const text = textAt(row, name);
    if (text === '') return cell === '–' || cell === '' ? null : 'a dash';
    const decimals = (of: string): number => /\.(\d+)$/u.exec(of)?.[1]?.length ?? 0;
    const half = (of: string): number => 0.5 * 10 ** -decimals(of);
    const shown = Number(cell.replace('\u2212', '-'));
    const wanted = factor * Number(text);
    // What is printed may be rounded once from what the file has, and the file once from what both were made of.
    const slack = half(cell) + (typeof row[name] === 'string' ? Math.abs(factor) * half(text) : 0) + 1e-9;
    return cell !== '' && Math.abs(shown - wanted) <= slack ? null : String(wanted);
  };
}

/** Several in one cell, with slashes between. */
export function parts(...checks: readonly CellCheck[]): CellCheck {
  return (cell, row) => {
    // One dash stands for all of them.
    const pieces = cell === '–' ? checks.map(() => cell) : cell.split(' / ');
    if (pieces.length !== checks.length) return `${String(checks.length)} parts`;
    for (const [index, check] of checks.entries()) {
      const wrong = check(pieces[index] ?? '', row);
      if (wrong !== null) return wrong;
    }
    return null;
  };
}

/** What is beside the file: no row of the data file has it, and where it is held. */
export const BESIDE: CellCheck = () => null;

/** What does not agree of a table. Given: the rows of the data; heads whose words find the row; a check of every head. */
export function disagreements(
  { heads, rows, caption }: ReadTable,
  data: readonly DataRow[],
  keys: readonly string[],
  checks: Readonly<Record<string, CellCheck>>,
): readonly string[] {
  const unknown = heads.filter((head) => checks[head] === undefined);
  const gone = Object.keys(checks).filter((head) => !heads.includes(head));
  if (unknown.length + gone.length > 0)
    return [`heads without a check: ${unknown.join(' | ')}; checks without a head: ${gone.join(' | ')}`];
  const faults: string[] = [];
  const few = rows.length < data.length;
  if (few && !caption.includes(`${String(rows.length)} of ${String(data.length)} `))
    faults.push(`${String(rows.length)} of ${String(data.length)} rows, and the caption does not say so`);
  const left = [...data];
  for (const row of rows) {
    const wrong = (own: DataRow, among: readonly string[]): readonly string[] =>
      among.flatMap((head) => {
        const cell = row[heads.indexOf(head)] ?? '';
        const wanted = checks[head]?.(cell, own) ?? null;
        return wanted === null ? [] : [`${row.slice(0, 3).join(' ')}: ${head}: ${cell} is not ${wanted}`];
      });
    const alike = left.flatMap((own, at) => (wrong(own, keys).length === 0 ? [at] : []));
    const best = alike
      .map((at) => ({ at, faults: wrong(left[at] ?? {}, heads) }))
      .sort((a, b) => a.faults.length - b.faults.length)[0];
    if (best === undefined) faults.push(`${row.slice(0, 4).join(' ')} is not in the data`);
    else {
      faults.push(...best.faults);
      left.splice(best.at, 1);
    }
  }
  return faults;
}
