import { AS_GIVEN } from './cells/decimals.js';
import type { ColumnRange, DescribedColumn } from './column.js';

/** From here on a bound only keeps out what is no number of the kind. */
const NO_BOUND = 1e6;

/** Columns that follow each other and are said to hold the same. */
export interface ColumnGroup {
  readonly names: readonly string[];
  readonly first: DescribedColumn;
}

/** The columns in order, those that are described alike together. */
export function columnGroups(columns: readonly DescribedColumn[]): readonly ColumnGroup[] {
  const groups: { names: string[]; first: DescribedColumn }[] = [];
  for (const column of columns) {
    const last = groups.at(-1);
    if (last?.first.describe === column.describe) last.names.push(column.name);
    else groups.push({ names: [column.name], first: column });
  }
  return groups;
}

/** What cells of a column may be when they are read, in words. */
export function readWords(column: DescribedColumn): string {
  if (column.holds !== undefined) return column.holds;
  switch (column.kind) {
    case 'id':
    case 'text':
      return 'text';
    case 'codes':
      return 'codes';
    case 'time':
      return 'ISO 8601, UTC';
    case 'yes-no':
      return '`yes` or `no`';
    case 'word':
      return column.words === undefined ? 'text' : [...column.words.keys()].map((word) => `\`${word}\``).join(', ');
    case 'latitude':
      return rangeWords([-90, 90]);
    case 'longitude':
      return rangeWords([-180, 360]);
    case 'whole':
      return `whole, ${rangeWords(column.range)}`;
    case 'number':
    case 'direction':
    case 'angle':
      return rangeWords(column.range);
  }
}

/** How cells of a column are written, in words. */
export function writtenWords({ kind, decimals, unit }: DescribedColumn): string {
  switch (kind) {
    case 'id':
    case 'text':
    case 'word':
      return 'text';
    case 'codes':
      return 'codes';
    case 'time':
      return 'ISO 8601, UTC';
    case 'whole':
      return 'whole';
    case 'yes-no':
      return '`yes` or `no`';
    case 'number':
    case 'latitude':
    case 'longitude':
    case 'direction':
    case 'angle':
      return `${unit === undefined ? '' : `${unit}, `}${decimals === AS_GIVEN ? 'as given' : decimals === 0 ? 'whole' : `${String(decimals)} ${decimals === 1 ? 'decimal' : 'decimals'}`}`;
  }
}

function rangeWords(range: ColumnRange | undefined): string {
  const [least, most] = range ?? [-Infinity, Infinity];
  if (most >= NO_BOUND) return least <= -NO_BOUND ? 'any number' : `${grouped(least)} and above`;
  return `${grouped(least)} to ${grouped(most)}`;
}

/** A whole number, or one of a few decimals, as pages write it. */
function grouped(value: number): string {
  const text = String(Math.abs(value));
  const [whole = '', part] = text.split('.');
  const spaced = whole.length < 5 ? whole : inThrees(whole);
  return `${value < 0 ? '−' : ''}${spaced}${part === undefined ? '' : `.${part}`}`;
}

/** Digits in groups of three from the right. */
function inThrees(digits: string): string {
  const groups: string[] = [];
  for (let end = digits.length; end > 0; end -= 3) groups.unshift(digits.slice(Math.max(0, end - 3), end));
  return groups.join(' ');
}
