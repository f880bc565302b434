import { decimalClasses } from './aligned-decimals.js';
import { markup } from './markup.js';
import type { Markup } from './markup.js';

/** How a column stands: numbers to the right and never broken, names, prose with room, codes with more. */
export type ColumnKind = 'number' | 'text' | 'words' | 'prose' | 'codes';

export interface TableColumn {
  readonly head: string;
  /** Under the head: the unit, and what is said of it. */
  readonly unit?: string;
  readonly kind: ColumnKind;
}

export interface TableContent {
  readonly caption: Markup;
  readonly columns: readonly TableColumn[];
  /** The first cell of a row is its header. */
  readonly rows: readonly (readonly (string | Markup)[])[];
  /** What a narrow screen calls the part that scrolls. */
  readonly label: string;
}

const CLASSES: Readonly<Record<ColumnKind, string>> = {
  number: ' class="n"',
  text: '',
  words: ' class="w"',
  prose: ' class="p"',
  codes: ' class="p c"',
};

/** A table of so few rows is not divided between sheets of paper. */
const MOST_WHOLE = 8;

const NO_ROOM: readonly string[] = [];

function cellAttributes(attributes: Markup | undefined, room: string | undefined): Markup | null {
  return room === undefined || room === '' ? (attributes ?? null) : { html: ` class="n ${room}"` };
}

/** Codes are not broken at their hyphens: a line may end between two. */
function wholeCodes(columns: readonly TableColumn[]): (cell: string | Markup, index: number) => string | Markup {
  return (cell, index) =>
    typeof cell !== 'string' || columns[index]?.kind !== 'codes' || cell === ''
      ? cell
      : markup`${cell.split(', ').map((code, at) => markup`${at === 0 ? '' : ', '}<span class="d">${code}</span>`)}`;
}

/** A table with a caption, headers with their scope, and room to scroll by keyboard on a narrow screen. */
export function table({ caption, columns, rows, label }: TableContent): Markup {
  const attributes = columns.map(({ kind }) => ({ html: CLASSES[kind] }));
  const room = columns.map(({ kind }, i) =>
    // A row has a cell for each column.
    kind === 'number' ? decimalClasses(rows.map((cells) => cells[i] ?? '')) : NO_ROOM,
  );
  const classes = rows.length <= MOST_WHOLE ? 'scroll whole' : 'scroll';
  return markup`<div class="${classes}" tabindex="0" role="group" aria-label="${label}">
<table>
<caption>${caption}</caption>
<thead><tr>${columns.map(({ head, unit }, i) => markup`<th scope="col"${attributes[i] ?? null}>${head}${unit === undefined ? null : markup`<span class="unit">${unit}</span>`}</th>`)}</tr></thead>
<tbody>
${rows.map(
  (
    cells,
    row,
  ) => markup`<tr>${cells.map(wholeCodes(columns)).map((cell, i) => (i === 0 ? markup`<th scope="row"${attributes[i] ?? null}>${cell}</th>` : markup`<td${cellAttributes(attributes[i], room[i]?.[row])}>${cell}</td>`))}</tr>
`,
)}</tbody>
</table>
</div>`;
}
